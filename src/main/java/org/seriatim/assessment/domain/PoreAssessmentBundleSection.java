package org.seriatim.assessment.domain;

import org.seriatim.assessment.Region;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;

import org.springframework.stereotype.Component;

/** pore_assessments.csv, kept in {@code pore_assessment}. */
@Component
class PoreAssessmentBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("pore_assessments.csv")
		.key("record_number", Kind.label())
		.key("region", Kind.word(Region.values(), Region::word))
		.key("assessed_on", Kind.day())
		.key("assessor", Kind.staff())
		.optional("grade", Kind.whole(0, 4))
		.optional("pores_per_cm2", Kind.atLeast("0"))
		.refersTo("patients.csv", "a patient", "record_number")
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select a.id, p.record_number, a.region, a.assessed_on, m.name as assessor, a.grade, a.pores_per_cm2
				from pore_assessment a
					join patient p on p.id = a.patient_id
					join staff m on m.id = a.assessor_id""";
	}

	@Override
	public String write() {
		return """
				insert into pore_assessment (id, patient_id, region, assessed_on, assessor_id, grade, pores_per_cm2,
					recorded_at, recorded_by)
				select i.id, p.id, i.region, i.assessed_on, m.id, i.grade, i.pores_per_cm2, :recorded_at, :recorded_by
				from incoming_pore_assessments i
					join patient p using (record_number)
					join staff m on m.name = i.assessor
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(grade, pores_per_cm2) = (excluded.grade, excluded.pores_per_cm2),
					version = pore_assessment.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

}
