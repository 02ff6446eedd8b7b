-- What is recorded of a session at the chair beside what travels in the exchange bundle. All of it may be unknown.
alter table session
	add column topical_grams numeric check (topical_grams >= 0),
	add column topical_area_cm2 numeric check (topical_area_cm2 >= 0),
	add column right_even boolean,
	add column right_lump_felt boolean,
	add column right_compressed boolean,
	add column right_massaged boolean,
	add column right_ointment boolean,
	add column middle_even boolean,
	add column middle_lump_felt boolean,
	add column middle_compressed boolean,
	add column middle_massaged boolean,
	add column middle_ointment boolean,
	add column left_even boolean,
	add column left_lump_felt boolean,
	add column left_compressed boolean,
	add column left_massaged boolean,
	add column left_ointment boolean,
	add column instructions_given boolean,
	add column instructions text;

-- A vial opened for one patient is never continued for another, so there is no word for that.
alter table preparation
	add column hyaluronic_mg numeric check (hyaluronic_mg >= 0),
	add column reconstituted_at timestamptz,
	add column first_used_at timestamptz,
	add column syringes smallint check (syringes >= 1),
	add column vial_fate text check (vial_fate in ('nothing_left', 'discarded', 'kept_for_this_patient')),
	add column discard_reason text check (discard_reason in ('left_in_syringe', 'spilled', 'not_needed')),
	add column expired_reason text,
	add column balance_reason text,
	add check (first_used_at >= reconstituted_at);

alter table injection
	add column point_ml numeric check (point_ml > 0),
	add column angle_degrees smallint check (angle_degrees between 0 and 90),
	add column area_cm2 numeric check (area_cm2 > 0),
	add column spacing_mm numeric check (spacing_mm > 0);

-- A draft is saved while it is typed, by the page on which it is typed: that page never comes too late for what it saved
-- itself, although it may not have heard so. Of what the page saved by itself the state at the end of every ten minutes is kept;
-- what somebody kept on purpose, what another person wrote on and what was settled is kept always.
alter table session_draft add column saved_by_page uuid;
drop trigger session_draft_keeps_versions on session_draft;
create trigger session_draft_keeps_versions before update on session_draft
	for each row when (old.saved_by_page is null or old.written_by <> new.written_by or old.status <> new.status
		or div(extract(epoch from old.written_at), 600) <> div(extract(epoch from new.written_at), 600))
	execute function keep_previous_version();
create index session_draft_by_page on session_draft (saved_by_page) where status = 'open';
