package org.seriatim.treatment.domain;

import java.util.List;

import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.RowRule;
import org.seriatim.treatment.SeriesStatus;

import org.springframework.stereotype.Component;

/**
 * series.csv, kept in {@code series}. A bundle names no protocol version: a new series is
 * governed by the newest one.
 */
@Component
class SeriesBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("series.csv")
		.key("record_number", Kind.label())
		.key("series", Kind.whole(1, 9999))
		.optional("goal", Kind.prose())
		.optional("planned_sessions", Kind.whole(1, 99))
		.required("status", Kind.word(SeriesStatus.values(), SeriesStatus::word))
		.optional("ended_on", Kind.day())
		.optional("reason", Kind.prose())
		.refersTo("patients.csv", "a patient", "record_number")
		.rule(new RowRule(List.of("ended_on", "status"),
				(row) -> !row.has("ended_on") || !row.get("status").equals(SeriesStatus.OPEN.word()),
				"nothing while the status is open"))
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select s.id, p.record_number, s.number as series, s.goal, s.planned_sessions, s.status, s.ended_on, s.reason
				from series s join patient p on p.id = s.patient_id""";
	}

	@Override
	public String write() {
		return """
				insert into series (id, patient_id, number, goal, planned_sessions, status, ended_on, reason, protocol_version,
					recorded_at, recorded_by)
				select i.id, p.id, i.series, i.goal, i.planned_sessions, i.status, i.ended_on, i.reason,
					(select max(number) from protocol_version), :recorded_at, :recorded_by
				from incoming_series i join patient p using (record_number)
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(goal, planned_sessions, status, ended_on, reason) =
						(excluded.goal, excluded.planned_sessions, excluded.status, excluded.ended_on, excluded.reason),
					version = series.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

}
