package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.util.List;
import java.util.Set;

import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.RowRule;

import org.springframework.stereotype.Component;

/**
 * global_assessments.csv, kept in {@code global_assessment}. Scales are an open
 * vocabulary, since a clinic may hold a licence of its own for a scale that this service
 * does not know; the scale that the format fixes is checked.
 */
@Component
class GlobalAssessmentBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("global_assessments.csv")
		.key("record_number", Kind.label())
		.key("assessed_on", Kind.day())
		.key("assessor", Kind.staff())
		.key("scale", Kind.term())
		.key("item", Kind.term())
		.required("value", Kind.number())
		.refersTo("patients.csv", "a patient", "record_number")
		.rule(new RowRule(List.of("item", "scale"),
				(row) -> !row.get("scale").equals("gais")
						|| Set.of("practitioner", "patient").contains(row.get("item")),
				"practitioner or patient for the scale gais"))
		.rule(new RowRule(List.of("value", "scale"),
				(row) -> !row.get("scale").equals("gais") || isWholeFromTo((BigDecimal) row.get("value"), -1, 3),
				"a whole number from -1 (worse) to 3 (very much improved) for the scale gais"))
		.build();

	private static boolean isWholeFromTo(BigDecimal value, int least, int most) {
		return value.stripTrailingZeros().scale() <= 0 && value.compareTo(BigDecimal.valueOf(least)) >= 0
				&& value.compareTo(BigDecimal.valueOf(most)) <= 0;
	}

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select a.id, p.record_number, a.assessed_on, m.name as assessor, a.scale, a.item, a.value
				from global_assessment a
					join patient p on p.id = a.patient_id
					join staff m on m.id = a.assessor_id""";
	}

	@Override
	public String write() {
		return """
				insert into global_assessment (id, patient_id, assessed_on, assessor_id, scale, item, value, recorded_at, recorded_by)
				select i.id, p.id, i.assessed_on, m.id, i.scale, i.item, i.value, :recorded_at, :recorded_by
				from incoming_global_assessments i
					join patient p using (record_number)
					join staff m on m.name = i.assessor
				where i.state <> 'unchanged'
				on conflict (id) do update set
					value = excluded.value,
					version = global_assessment.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

}
