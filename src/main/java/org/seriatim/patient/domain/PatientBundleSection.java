package org.seriatim.patient.domain;

import java.util.List;

import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.patient.Sebum;
import org.seriatim.patient.Sex;
import org.seriatim.patient.SkinThickness;

import org.springframework.stereotype.Component;

/** patients.csv, kept in {@code patient}. */
@Component
class PatientBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("patients.csv")
		.key("record_number", Kind.label())
		.optional("family_name", Kind.text())
		.optional("given_name", Kind.text())
		.optional("birth_date", Kind.day())
		.optional("sex", Kind.word(Sex.values(), Sex::word))
		.optional("phone", Kind.text())
		.optional("email", Kind.text())
		.optional("phototype", Kind.whole(1, 6))
		.optional("skin_thickness", Kind.word(SkinThickness.values(), SkinThickness::word))
		.optional("sebum", Kind.word(Sebum.values(), Sebum::word))
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select id, record_number, family_name, given_name, birth_date, sex, phone, email, phototype, skin_thickness, sebum
				from patient""";
	}

	@Override
	public String write() {
		return """
				insert into patient (id, record_number, family_name, given_name, birth_date, sex, phone, email, phototype,
					skin_thickness, sebum, recorded_at, recorded_by)
				select id, record_number, family_name, given_name, birth_date, sex, phone, email, phototype,
					skin_thickness, sebum, :recorded_at, :recorded_by
				from incoming_patients where state <> 'unchanged'
				on conflict (id) do update set
					(family_name, given_name, birth_date, sex, phone, email, phototype, skin_thickness, sebum) =
						(excluded.family_name, excluded.given_name, excluded.birth_date, excluded.sex, excluded.phone,
						excluded.email, excluded.phototype, excluded.skin_thickness, excluded.sebum),
					version = patient.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		return List.of(new BundleCheck("patients.csv", "record_number",
				"a record number that was never given to another patient",
				"""
						select i.line, i.record_number as found
						from incoming_patients i
						where i.state = 'added' and (exists (
								select from record_number_given g where g.record_number = i.record_number)
							or exists (select from erased_record_number where mark = record_number_mark(i.record_number)))"""));
	}

}
