package org.seriatim.followup.domain;

import java.time.OffsetDateTime;
import java.util.List;

import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.RowRule;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;

import org.springframework.stereotype.Component;

/** appointments.csv, kept in {@code appointment}. */
@Component
class AppointmentBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("appointments.csv")
		.key("record_number", Kind.label())
		.key("practitioner", Kind.staff())
		.key("starts_at", Kind.moment())
		.required("ends_at", Kind.moment())
		.required("purpose", Kind.word(AppointmentPurpose.values(), AppointmentPurpose::word))
		.required("status", Kind.word(AppointmentStatus.values(), AppointmentStatus::word))
		.refersTo("patients.csv", "a patient", "record_number")
		.rule(new RowRule(List.of("ends_at", "starts_at"),
				(row) -> ((OffsetDateTime) row.get("ends_at")).isAfter((OffsetDateTime) row.get("starts_at")),
				"a time after the start"))
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select a.id, p.record_number, m.name as practitioner, a.starts_at, a.starts_offset_minutes as starts_at_offset,
					a.ends_at, a.ends_offset_minutes as ends_at_offset, a.purpose, a.status
				from appointment a
					join patient p on p.id = a.patient_id
					join staff m on m.id = a.practitioner_id""";
	}

	@Override
	public String write() {
		return """
				insert into appointment (id, patient_id, practitioner_id, starts_at, starts_offset_minutes, ends_at,
					ends_offset_minutes, purpose, status, recorded_at, recorded_by)
				select i.id, p.id, m.id, i.starts_at, i.starts_at_offset, i.ends_at, i.ends_at_offset, i.purpose, i.status,
					:recorded_at, :recorded_by
				from incoming_appointments i
					join patient p using (record_number)
					join staff m on m.name = i.practitioner
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(starts_offset_minutes, ends_at, ends_offset_minutes, purpose, status) =
						(excluded.starts_offset_minutes, excluded.ends_at, excluded.ends_offset_minutes, excluded.purpose,
						excluded.status),
					version = appointment.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		// In order of their starts, times of one practitioner overlap somewhere if and
		// only if
		// one begins before the latest end so far. Where the later of two is on record
		// only,
		// the earlier one is named.
		return List.of(new BundleCheck("appointments.csv", "starts_at",
				"a time in which the practitioner has no other appointment that is booked or arrived",
				"""
						select line, case when starts_at < busy_until
							then format('%s, when an earlier one ends at %s',
								to_char(starts_at at time zone make_interval(mins => starts_at_offset), 'YYYY-MM-DD HH24:MI'),
								to_char(busy_until at time zone make_interval(mins => starts_at_offset), 'YYYY-MM-DD HH24:MI'))
							else format('an end at %s, when the next one starts at %s',
								to_char(ends_at at time zone make_interval(mins => starts_at_offset), 'YYYY-MM-DD HH24:MI'),
								to_char(next_start at time zone make_interval(mins => starts_at_offset), 'YYYY-MM-DD HH24:MI'))
							end as found
						from (
							select line, starts_at, starts_at_offset, ends_at,
								max(ends_at) over (by_start rows between unbounded preceding and 1 preceding) as busy_until,
								lead(line) over by_start as next_line,
								lead(starts_at) over by_start as next_start
							from merged_appointments
							where status in ('booked', 'arrived') and starts_at < ends_at
								and practitioner in (select practitioner from incoming_appointments)
							window by_start as (partition by practitioner order by starts_at, ends_at, record_number)) day
						where line is not null
							and (starts_at < busy_until or (next_start < ends_at and next_line is null))"""));
	}

}
