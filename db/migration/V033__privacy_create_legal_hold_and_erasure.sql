-- A record on hold is neither erased nor taken into a retention batch.
create table legal_hold (
	id uuid primary key default uuidv7(),
	patient_id uuid not null,
	reason text not null check (btrim(reason) <> ''),
	set_at timestamptz not null,
	set_by uuid references staff,
	lifted_at timestamptz check (lifted_at >= set_at),
	lifted_by uuid references staff,
	lift_reason text,
	check ((lifted_at is null) = (lift_reason is null))
);
create unique index legal_hold_open on legal_hold (patient_id) where lifted_at is null;

-- One row for every erasure, without anything of the patient: the opaque id is all that the audit log knows as well. While
-- its transaction lasts, the row is the only door through the guards against deletion, and only for this patient.
create table erasure (
	id uuid primary key default uuidv7(),
	patient_id uuid not null unique,
	erased_at timestamptz not null,
	erased_by uuid references staff,
	reason text not null check (reason in ('patient_request', 'consent_withdrawn', 'retention_ended', 'entered_in_error', 'court_order')),
	note text,
	sessions int not null,
	findings int not null,
	transaction xid8 not null default pg_current_xact_id()
);
create trigger erasure_is_never_edited before update or delete on erasure for each row execute function refuse_change();

-- A number that was erased is still never given again; what is kept is a mark from which nobody reads it off.
create table erased_record_number (
	mark bytea primary key
);
create table erasure_salt (
	only_one boolean primary key default true check (only_one),
	salt uuid not null default gen_random_uuid()
);
insert into erasure_salt default values;

create function record_number_mark(number text) returns bytea language sql stable as $$
	select sha256(convert_to((select salt from erasure_salt)::text || number, 'UTF8'))
$$;

create or replace function remember_record_number() returns trigger language plpgsql as $$
begin
	insert into record_number_given (record_number, patient_id) values (new.record_number, new.id)
	on conflict (record_number) do nothing;
	if (select patient_id from record_number_given where record_number = new.record_number) <> new.id
			or exists (select from erased_record_number where mark = record_number_mark(new.record_number)) then
		raise exception unique_violation using
			message = 'record number was given to another patient',
			constraint = 'record_number_given_pkey';
	end if;
	return null;
end $$;

create function is_being_erased(entry jsonb) returns boolean language sql stable as $$
	select exists (
		select from erasure
		where transaction = pg_current_xact_id_if_assigned()
			and patient_id = coalesce((entry ->> 'patient_id')::uuid,
				(select patient_id from session where id = (entry ->> 'session_id')::uuid),
				(select patient_id from finding where id = (entry ->> 'finding_id')::uuid),
				(select patient_id from advice where id = (entry ->> 'advice_id')::uuid),
				(entry ->> 'id')::uuid))
$$;

create or replace function refuse_deletion() returns trigger language plpgsql as $$
begin
	if is_being_erased(to_jsonb(old)) then
		return old;
	end if;
	raise exception 'a % is corrected, not deleted', tg_table_name;
end $$;

create or replace function keep_removed_version() returns trigger language plpgsql as $$
begin
	if not is_being_erased(to_jsonb(old)) then
		insert into previous_version (table_name, entry_id, version, content)
		values (tg_table_name, old.id, old.version, to_jsonb(old));
	end if;
	return old;
end $$;

drop trigger advice_decision_is_never_edited on advice_decision;
create trigger advice_decision_is_never_edited before update on advice_decision for each row execute function refuse_change();
create trigger advice_decision_is_not_deleted before delete on advice_decision for each row execute function refuse_deletion();

create index previous_version_of_patient on previous_version ((content ->> 'patient_id'));

-- Erases a patient. What the clinic's figures rest on stays as a record of nobody: other ids, another number, no text, no
-- profile but the phototype, and all its days moved back by one number of days that is kept nowhere.
create function erase_patient(erased uuid, at timestamptz, by_staff uuid, why text, remark text) returns void
	language plpgsql security definer set search_path from current as $$
declare
	secret text := gen_random_uuid()::text;
	nobody uuid := gen_random_uuid();
	days int := 1 + floor(random() * 28)::int;
	number text;
begin
	select record_number into number from patient where id = erased for update;
	if number is null then
		raise exception no_data_found using message = 'there is no such patient';
	end if;
	if exists (select from legal_hold where patient_id = erased and lifted_at is null) then
		raise exception restrict_violation using message = 'the record is on hold', constraint = 'legal_hold_open';
	end if;
	insert into erasure (patient_id, erased_at, erased_by, reason, note, sessions, findings)
	values (erased, at, by_staff, why, remark, (select count(*) from session where patient_id = erased),
		(select count(*) from finding where patient_id = erased));

	insert into patient (id, record_number, phototype, recorded_at)
	select nobody, 'E-' || upper(substr(md5(secret || 'number'), 1, 12)), phototype, at - make_interval(days => days)
	from patient where id = erased and exists (select from session where patient_id = erased
		union all select from scar where patient_id = erased union all select from finding where patient_id = erased
		union all select from scar_count where patient_id = erased union all select from pore_assessment where patient_id = erased
		union all select from global_assessment where patient_id = erased);
	if found then
		insert into scar (id, patient_id, label, region, type, first_recorded_on, recorded_at)
		select md5(secret || id)::uuid, nobody, 'S' || row_number() over (order by md5(secret || id)), region, type,
			first_recorded_on - days, first_recorded_on - days
		from scar where patient_id = erased;
		insert into scar_assessment (id, patient_id, scar_id, assessed_on, assessor_id, repeat, length_mm, width_mm, depth_mm,
			depth_method, depth_class, severity, response, recorded_at)
		select md5(secret || id)::uuid, nobody, md5(secret || scar_id)::uuid, assessed_on - days, assessor_id, repeat, length_mm,
			width_mm, depth_mm, depth_method, depth_class, severity, response, assessed_on - days
		from scar_assessment where patient_id = erased;
		insert into scar_count (id, patient_id, region, type, assessed_on, assessor_id, count, recorded_at)
		select md5(secret || id)::uuid, nobody, region, type, assessed_on - days, assessor_id, count, assessed_on - days
		from scar_count where patient_id = erased;
		insert into pore_assessment (id, patient_id, region, assessed_on, assessor_id, grade, pores_per_cm2, recorded_at)
		select md5(secret || id)::uuid, nobody, region, assessed_on - days, assessor_id, grade, pores_per_cm2, assessed_on - days
		from pore_assessment where patient_id = erased;
		insert into global_assessment (id, patient_id, assessed_on, assessor_id, scale, item, value, recorded_at)
		select md5(secret || id)::uuid, nobody, assessed_on - days, assessor_id, scale, item, value, assessed_on - days
		from global_assessment where patient_id = erased;
		insert into series (id, patient_id, number, planned_sessions, status, ended_on, protocol_version, recorded_at)
		select md5(secret || id)::uuid, nobody, series.number, planned_sessions,
			case when status = 'open' then 'stopped' else status end, ended_on - days, protocol_version,
			at - make_interval(days => days)
		from series where patient_id = erased;
		insert into session (id, patient_id, series_id, number, treated_on, practitioner_id, combination, rf_depth_mm,
			topical_minutes, oral_analgesic, vibration, pain_nrs, massage, recorded_at)
		select md5(secret || id)::uuid, nobody, md5(secret || series_id)::uuid, session.number, treated_on - days, practitioner_id,
			combination, rf_depth_mm, topical_minutes, oral_analgesic, vibration, pain_nrs, massage, treated_on - days
		from session where patient_id = erased;
		insert into preparation (id, session_id, number, product, lot, expires_on, vial_mg, diluent_ml, stock_drawn_ml,
			added_diluent_ml, lidocaine_percent, lidocaine_ml, discarded_ml, recorded_at)
		select md5(secret || p.id)::uuid, md5(secret || p.session_id)::uuid, p.number, product, lot, expires_on, vial_mg, diluent_ml,
			stock_drawn_ml, added_diluent_ml, lidocaine_percent, lidocaine_ml, discarded_ml, s.treated_on - days
		from preparation p join session s on s.id = p.session_id where s.patient_id = erased;
		insert into injection (id, patient_id, session_id, number, preparation_id, region, scar_id, target, layer, points, volume_ml,
			needle_gauge, needle_mm, blanching, bleeding, base_lifted, lump_raised, second_direction, pain_nrs, recorded_at)
		select md5(secret || i.id)::uuid, nobody, md5(secret || i.session_id)::uuid, i.number, md5(secret || i.preparation_id)::uuid,
			region, md5(secret || i.scar_id)::uuid, target, layer, points, volume_ml, needle_gauge, needle_mm, blanching, bleeding,
			base_lifted, lump_raised, second_direction, i.pain_nrs, s.treated_on - days
		from injection i join session s on s.id = i.session_id where i.patient_id = erased;
		-- A finding that nobody closed is closed with the record that it was part of: there is nobody left to treat or to ask.
		insert into finding (id, code, patient_id, session_id, kind, region, scar_id, first_noted_on, grade, grade_scale, serious,
			histology, gone_on, closed_on, closed_by, recorded_at)
		select md5(secret || f.id)::uuid, 'E-' || upper(substr(md5(secret || f.id || 'code'), 1, 12)), nobody,
			md5(secret || f.session_id)::uuid, kind, region, md5(secret || f.scar_id)::uuid, first_noted_on - days, grade, grade_scale,
			serious, histology, gone_on - days,
			case when coalesce(f.closed_by, by_staff) is not null then coalesce(closed_on, (select max(observed_on)
				from finding_observation where finding_id = f.id), first_noted_on) - days end,
			coalesce(f.closed_by, by_staff), first_noted_on - days
		from finding f where patient_id = erased;
		insert into finding_observation (id, finding_id, observed_on, reporter, channel, present, size_mm, recorded_at)
		select md5(secret || o.id)::uuid, md5(secret || o.finding_id)::uuid, observed_on - days, reporter, channel, present, size_mm,
			observed_on - days
		from finding_observation o join finding f on f.id = o.finding_id where f.patient_id = erased;
		insert into contact (id, patient_id, session_id, contacted_on, channel, outcome, lumps_present, pain_nrs, recorded_at)
		select md5(secret || id)::uuid, nobody, md5(secret || session_id)::uuid, contacted_on - days, channel, outcome, lumps_present,
			pain_nrs, contacted_on - days
		from contact where patient_id = erased;
	end if;

	delete from previous_version where content ->> 'patient_id' = erased::text
		or table_name = 'patient' and entry_id = erased
		or content ->> 'session_id' in (select id::text from session where patient_id = erased)
		or content ->> 'finding_id' in (select id::text from finding where patient_id = erased);
	delete from session_draft where patient_id = erased;
	delete from advice_decision where advice_id in (select id from advice where patient_id = erased);
	delete from advice where patient_id = erased;
	delete from appointment where patient_id = erased;
	delete from contact where patient_id = erased;
	delete from finding_observation where finding_id in (select id from finding where patient_id = erased);
	delete from finding where patient_id = erased;
	delete from injection where patient_id = erased;
	delete from preparation where session_id in (select id from session where patient_id = erased);
	delete from session where patient_id = erased;
	delete from series where patient_id = erased;
	delete from global_assessment where patient_id = erased;
	delete from pore_assessment where patient_id = erased;
	delete from scar_count where patient_id = erased;
	delete from scar_assessment where patient_id = erased;
	delete from scar where patient_id = erased;
	delete from legal_hold where patient_id = erased;
	if to_regclass('emergency_access') is not null then
		execute 'update emergency_access set reason = ''erased'', note = null where patient_id = $1' using erased;
	end if;
	insert into erased_record_number select record_number_mark(record_number) from record_number_given
		where patient_id = erased on conflict do nothing;
	delete from record_number_given where patient_id = erased;
	delete from patient where id = erased;
end $$;

-- The opaque id stays where it was said who opened a record without the role for it.
do $$
begin
	if to_regclass('emergency_access') is not null then
		alter table emergency_access drop constraint if exists emergency_access_patient_id_fkey;
	end if;
end $$;
