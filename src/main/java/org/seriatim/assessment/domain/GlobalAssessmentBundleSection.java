package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;

import org.seriatim.assessment.GlobalScale;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.Row;
import org.seriatim.bundle.RowRule;

import org.springframework.stereotype.Component;

/**
 * global_assessments.csv, kept in {@code global_assessment}. Scales are an open
 * vocabulary, since a clinic may hold a licence of its own for a scale that this service
 * does not know; of the scales that it knows, items and values are checked.
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
		.rule(new RowRule(List.of("item", "scale"), GlobalAssessmentBundleSection::hasItemOfItsScale,
				"an item of the scale"))
		.rule(new RowRule(List.of("value", "item", "scale"), GlobalAssessmentBundleSection::isWithinItsScale,
				"a whole number within the scale"))
		.build();

	private static boolean hasItemOfItsScale(Row row) {
		return scale(row).map((scale) -> scale.item((String) row.get("item")).isPresent()).orElse(true);
	}

	private static boolean isWithinItsScale(Row row) {
		BigDecimal value = (BigDecimal) row.get("value");
		return scale(row).flatMap((scale) -> scale.item((String) row.get("item")))
			.map((item) -> value.stripTrailingZeros().scale() <= 0
					&& value.compareTo(BigDecimal.valueOf(item.least())) >= 0
					&& value.compareTo(BigDecimal.valueOf(item.largest())) <= 0)
			.orElse(true);
	}

	private static Optional<GlobalScale> scale(Row row) {
		return GlobalScale.ofWord((String) row.get("scale"));
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
