package org.seriatim.treatment.domain;

import org.seriatim.assessment.Region;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.Target;

import org.springframework.stereotype.Component;

/** injections.csv, kept in {@code injection}. */
@Component
class InjectionBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("injections.csv")
		.key("record_number", Kind.label())
		.key("session_number", Kind.whole(1, 9999))
		.key("injection", Kind.whole(1, 9999))
		.optional("preparation", Kind.whole(1, 9999))
		.required("region", Kind.word(Region.values(), Region::word))
		.optional("scar_label", Kind.label())
		.required("target", Kind.word(Target.values(), Target::word))
		.optional("layer", Kind.word(Layer.values(), Layer::word))
		.optional("points", Kind.whole(1, Integer.MAX_VALUE))
		.optional("volume_ml", Kind.atLeast("0"))
		.optional("needle_gauge", Kind.whole(10, 40))
		.optional("needle_mm", Kind.positive())
		.optional("blanching", Kind.yesNo())
		.optional("bleeding", Kind.yesNo())
		.optional("base_lifted", Kind.yesNo())
		.optional("lump_raised", Kind.yesNo())
		.optional("second_direction", Kind.yesNo())
		.optional("pain_nrs", Kind.whole(0, 10))
		.refersTo("patients.csv", "a patient", "record_number")
		.refersTo("sessions.csv", "a session of the patient", "record_number", "session_number")
		.refersTo("preparations.csv", "a preparation of the session", "record_number", "session_number", "preparation")
		.refersTo("scars.csv", "a scar of the patient", "record_number", "scar_label")
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select j.id, p.record_number, s.number as session_number, j.number as injection, v.number as preparation,
					j.region, c.label as scar_label, j.target, j.layer, j.points, j.volume_ml, j.needle_gauge, j.needle_mm,
					j.blanching, j.bleeding, j.base_lifted, j.lump_raised, j.second_direction, j.pain_nrs
				from injection j
					join session s on s.id = j.session_id
					join patient p on p.id = j.patient_id
					left join preparation v on v.id = j.preparation_id
					left join scar c on c.id = j.scar_id""";
	}

	@Override
	public String write() {
		return """
				insert into injection (id, patient_id, session_id, number, preparation_id, region, scar_id, target, layer, points,
					volume_ml, needle_gauge, needle_mm, blanching, bleeding, base_lifted, lump_raised, second_direction,
					pain_nrs, recorded_at, recorded_by)
				select i.id, p.id, s.id, i.injection, v.id, i.region, c.id, i.target, i.layer, i.points, i.volume_ml,
					i.needle_gauge, i.needle_mm, i.blanching, i.bleeding, i.base_lifted, i.lump_raised, i.second_direction,
					i.pain_nrs, :recorded_at, :recorded_by
				from incoming_injections i
					join patient p using (record_number)
					join session s on s.patient_id = p.id and s.number = i.session_number
					left join preparation v on v.session_id = s.id and v.number = i.preparation
					left join scar c on c.patient_id = p.id and c.label = i.scar_label
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(preparation_id, region, scar_id, target, layer, points, volume_ml, needle_gauge, needle_mm, blanching,
							bleeding, base_lifted, lump_raised, second_direction, pain_nrs) =
						(excluded.preparation_id, excluded.region, excluded.scar_id, excluded.target, excluded.layer,
						excluded.points, excluded.volume_ml, excluded.needle_gauge, excluded.needle_mm, excluded.blanching,
						excluded.bleeding, excluded.base_lifted, excluded.lump_raised, excluded.second_direction,
						excluded.pain_nrs),
					version = injection.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

}
