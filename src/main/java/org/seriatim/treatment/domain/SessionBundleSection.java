package org.seriatim.treatment.domain;

import java.util.List;

import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.treatment.Combination;

import org.springframework.stereotype.Component;

/** sessions.csv, kept in {@code session}. */
@Component
class SessionBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("sessions.csv")
		.key("record_number", Kind.label())
		.key("session_number", Kind.whole(1, 9999))
		.required("series", Kind.whole(1, 9999))
		.required("treated_on", Kind.day())
		.required("practitioner", Kind.staff())
		.optional("weight_kg", Kind.positiveUpTo("500"))
		.optional("combination", Kind.word(Combination.values(), Combination::word))
		.optional("rf_depth_mm", Kind.positiveUpTo("10"))
		.optional("topical_minutes", Kind.whole(0, Integer.MAX_VALUE))
		.optional("oral_analgesic", Kind.yesNo())
		.optional("vibration", Kind.yesNo())
		.optional("pain_nrs", Kind.whole(0, 10))
		.optional("massage", Kind.yesNo())
		.refersTo("patients.csv", "a patient", "record_number")
		.refersTo("series.csv", "a series of the patient", "record_number", "series")
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select s.id, p.record_number, s.number as session_number, c.number as series, s.treated_on,
					m.name as practitioner, s.weight_kg, s.combination, s.rf_depth_mm, s.topical_minutes, s.oral_analgesic,
					s.vibration, s.pain_nrs, s.massage
				from session s
					join patient p on p.id = s.patient_id
					join series c on c.id = s.series_id
					join staff m on m.id = s.practitioner_id""";
	}

	@Override
	public String write() {
		return """
				insert into session (id, patient_id, series_id, number, treated_on, practitioner_id, weight_kg, combination,
					rf_depth_mm, topical_minutes, oral_analgesic, vibration, pain_nrs, massage, recorded_at, recorded_by)
				select i.id, p.id, c.id, i.session_number, i.treated_on, m.id, i.weight_kg, i.combination, i.rf_depth_mm,
					i.topical_minutes, i.oral_analgesic, i.vibration, i.pain_nrs, i.massage, :recorded_at, :recorded_by
				from incoming_sessions i
					join patient p using (record_number)
					join series c on c.patient_id = p.id and c.number = i.series
					join staff m on m.name = i.practitioner
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(series_id, treated_on, practitioner_id, weight_kg, combination, rf_depth_mm, topical_minutes,
							oral_analgesic, vibration, pain_nrs, massage) =
						(excluded.series_id, excluded.treated_on, excluded.practitioner_id, excluded.weight_kg,
						excluded.combination, excluded.rf_depth_mm, excluded.topical_minutes, excluded.oral_analgesic,
						excluded.vibration, excluded.pain_nrs, excluded.massage),
					version = session.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		// A fall between two sessions of which one is on record only is attributed to the
		// one in the bundle, whichever comes first.
		return List.of(new BundleCheck("sessions.csv", "treated_on",
				"days that do not fall as the session numbers of a patient rise",
				"""
						select coalesce(line, earlier_line) as line,
							case
								when line is null then format('session %s on %s, a later one on record before it',
									earlier_number, earlier_day)
								when earlier_line is null then format('session %s on %s, an earlier one on record after it',
									session_number, treated_on)
								else format('session %s on %s, session %s on %s in line %s', session_number, treated_on,
									earlier_number, earlier_day, earlier_line) end as found
						from (
							select line, session_number, treated_on, lag(line) over by_number as earlier_line,
								lag(session_number) over by_number as earlier_number,
								lag(treated_on) over by_number as earlier_day
							from merged_sessions
							where treated_on is not null
								and record_number in (select record_number from incoming_sessions)
							window by_number as (partition by record_number order by session_number)) step
						where treated_on < earlier_day and coalesce(line, earlier_line) is not null"""));
	}

}
