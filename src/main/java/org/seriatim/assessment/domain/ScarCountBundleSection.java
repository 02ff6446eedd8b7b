package org.seriatim.assessment.domain;

import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Region;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;

import org.springframework.stereotype.Component;

/** scar_counts.csv, kept in {@code scar_count}. */
@Component
class ScarCountBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("scar_counts.csv")
		.key("record_number", Kind.label())
		.key("region", Kind.word(Region.values(), Region::word))
		.key("type", Kind.word(CountedType.values(), CountedType::word))
		.key("assessed_on", Kind.day())
		.key("assessor", Kind.staff())
		.required("count", Kind.whole(0, Integer.MAX_VALUE))
		.refersTo("patients.csv", "a patient", "record_number")
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select c.id, p.record_number, c.region, c.type, c.assessed_on, m.name as assessor, c.count
				from scar_count c
					join patient p on p.id = c.patient_id
					join staff m on m.id = c.assessor_id""";
	}

	@Override
	public String write() {
		return """
				insert into scar_count (id, patient_id, region, type, assessed_on, assessor_id, count, recorded_at, recorded_by)
				select i.id, p.id, i.region, i.type, i.assessed_on, m.id, i.count, :recorded_at, :recorded_by
				from incoming_scar_counts i
					join patient p using (record_number)
					join staff m on m.name = i.assessor
				where i.state <> 'unchanged'
				on conflict (id) do update set
					count = excluded.count,
					version = scar_count.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

}
