package org.seriatim.assessment.domain;

import java.util.List;

import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.RowRule;

import org.springframework.stereotype.Component;

/** scar_assessments.csv, kept in {@code scar_assessment}. */
@Component
class ScarAssessmentBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("scar_assessments.csv")
		.key("record_number", Kind.label())
		.key("scar_label", Kind.label())
		.key("assessed_on", Kind.day())
		.key("assessor", Kind.staff())
		.key("repeat", Kind.whole(0, 1))
		.optional("length_mm", Kind.positiveUpTo("300"))
		.optional("width_mm", Kind.positiveUpTo("100"))
		.optional("depth_mm", Kind.between("0", "10"))
		.optional("depth_method", Kind.word(DepthMethod.values(), DepthMethod::word))
		.optional("depth_class", Kind.word(DepthClass.values(), DepthClass::word))
		.optional("severity", Kind.whole(0, 4))
		.optional("response", Kind.whole(-1, 4))
		.refersTo("patients.csv", "a patient", "record_number")
		.refersTo("scars.csv", "a scar of the patient", "record_number", "scar_label")
		.rule(RowRule.notBelow("length_mm", "width_mm", "a length that is not below the width"))
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select a.id, p.record_number, s.label as scar_label, a.assessed_on, m.name as assessor, a.repeat, a.length_mm,
					a.width_mm, a.depth_mm, a.depth_method, a.depth_class, a.severity, a.response
				from scar_assessment a
					join scar s on s.id = a.scar_id
					join patient p on p.id = a.patient_id
					join staff m on m.id = a.assessor_id""";
	}

	@Override
	public String write() {
		return """
				insert into scar_assessment (id, patient_id, scar_id, assessed_on, assessor_id, repeat, length_mm, width_mm,
					depth_mm, depth_method, depth_class, severity, response, recorded_at, recorded_by)
				select i.id, p.id, s.id, i.assessed_on, m.id, i.repeat, i.length_mm, i.width_mm, i.depth_mm, i.depth_method,
					i.depth_class, i.severity, i.response, :recorded_at, :recorded_by
				from incoming_scar_assessments i
					join patient p using (record_number)
					join scar s on s.patient_id = p.id and s.label = i.scar_label
					join staff m on m.name = i.assessor
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(length_mm, width_mm, depth_mm, depth_method, depth_class, severity, response) =
						(excluded.length_mm, excluded.width_mm, excluded.depth_mm, excluded.depth_method,
						excluded.depth_class, excluded.severity, excluded.response),
					version = scar_assessment.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		return List.of(new BundleCheck("scar_assessments.csv", "depth_mm",
				"nothing, since a raised or macular scar has no depth", """
						select i.line, i.depth_mm || ' on a scar of type ' || s.type as found
						from incoming_scar_assessments i join merged_scars s using (record_number, scar_label)
						where i.depth_mm is not null and s.type in ('hypertrophic', 'keloid', 'macular')"""));
	}

}
