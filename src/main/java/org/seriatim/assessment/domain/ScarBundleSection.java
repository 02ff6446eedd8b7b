package org.seriatim.assessment.domain;

import java.util.List;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;
import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.RowRule;

import org.springframework.stereotype.Component;

/** scars.csv, kept in {@code scar}. */
@Component
class ScarBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("scars.csv")
		.key("record_number", Kind.label())
		.key("scar_label", Kind.label())
		.required("region", Kind.word(Region.values(), Region::word))
		.required("type", Kind.word(ScarType.values(), ScarType::word))
		.optional("map_x", Kind.between("0", "1"))
		.optional("map_y", Kind.between("0", "1"))
		.required("first_recorded_on", Kind.day())
		.refersTo("patients.csv", "a patient", "record_number")
		.rule(RowRule.bothOrNeither("map_x", "map_y"))
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select s.id, p.record_number, s.label as scar_label, s.region, s.type, s.map_x, s.map_y, s.first_recorded_on
				from scar s join patient p on p.id = s.patient_id""";
	}

	@Override
	public String write() {
		return """
				insert into scar (id, patient_id, label, region, type, map_x, map_y, first_recorded_on, recorded_at, recorded_by)
				select i.id, p.id, i.scar_label, i.region, i.type, i.map_x, i.map_y, i.first_recorded_on, :recorded_at,
					:recorded_by
				from incoming_scars i join patient p using (record_number)
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(region, type, map_x, map_y, first_recorded_on) =
						(excluded.region, excluded.type, excluded.map_x, excluded.map_y, excluded.first_recorded_on),
					version = scar.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		return List.of(new BundleCheck("scars.csv", "type",
				"no raised or macular type, since a depth of the scar is on record", """
						select distinct i.line, i.type as found
						from incoming_scars i join merged_scar_assessments a using (record_number, scar_label)
						where a.line is null and a.depth_mm is not null
							and i.type in ('hypertrophic', 'keloid', 'macular')"""));
	}

}
