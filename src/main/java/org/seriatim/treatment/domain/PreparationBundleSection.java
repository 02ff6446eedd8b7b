package org.seriatim.treatment.domain;

import java.util.List;

import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.RowRule;

import org.springframework.stereotype.Component;

/** preparations.csv, kept in {@code preparation}. */
@Component
class PreparationBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("preparations.csv")
		.key("record_number", Kind.label())
		.key("session_number", Kind.whole(1, 9999))
		.key("preparation", Kind.whole(1, 9999))
		.required("product", Kind.label())
		.optional("lot", Kind.label())
		.optional("expires_on", Kind.day())
		.optional("vial_mg", Kind.positive())
		.optional("diluent_ml", Kind.atLeast("0"))
		.optional("stock_drawn_ml", Kind.number())
		.optional("added_diluent_ml", Kind.atLeast("0"))
		.optional("lidocaine_percent", Kind.between("0", "10"))
		.optional("lidocaine_ml", Kind.atLeast("0"))
		.optional("discarded_ml", Kind.atLeast("0"))
		.refersTo("patients.csv", "a patient", "record_number")
		.refersTo("sessions.csv", "a session of the patient", "record_number", "session_number")
		.rule(RowRule.notBelow("diluent_ml", "stock_drawn_ml", "at least what was drawn out of the vial"))
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select v.id, p.record_number, s.number as session_number, v.number as preparation, v.product, v.lot,
					v.expires_on, v.vial_mg, v.diluent_ml, v.stock_drawn_ml, v.added_diluent_ml, v.lidocaine_percent,
					v.lidocaine_ml, v.discarded_ml
				from preparation v
					join session s on s.id = v.session_id
					join patient p on p.id = s.patient_id""";
	}

	@Override
	public String write() {
		return """
				insert into preparation (id, session_id, number, product, lot, expires_on, vial_mg, diluent_ml, stock_drawn_ml,
					added_diluent_ml, lidocaine_percent, lidocaine_ml, discarded_ml, recorded_at, recorded_by)
				select i.id, s.id, i.preparation, i.product, i.lot, i.expires_on, i.vial_mg, i.diluent_ml, i.stock_drawn_ml,
					i.added_diluent_ml, i.lidocaine_percent, i.lidocaine_ml, i.discarded_ml, :recorded_at, :recorded_by
				from incoming_preparations i
					join patient p using (record_number)
					join session s on s.patient_id = p.id and s.number = i.session_number
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(product, lot, expires_on, vial_mg, diluent_ml, stock_drawn_ml, added_diluent_ml, lidocaine_percent,
							lidocaine_ml, discarded_ml) =
						(excluded.product, excluded.lot, excluded.expires_on, excluded.vial_mg, excluded.diluent_ml,
						excluded.stock_drawn_ml, excluded.added_diluent_ml, excluded.lidocaine_percent,
						excluded.lidocaine_ml, excluded.discarded_ml),
					version = preparation.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		// Some keep the amount drawn as what remains of the other volumes. Where these
		// add up,
		// a remainder below zero is their book-keeping and not a slip of the pen: it is
		// taken
		// and told as an item of data quality.
		return List.of(new BundleCheck("preparations.csv", "stock_drawn_ml",
				"a number that is not negative, unless it makes the volumes of the preparation add up", """
						select i.line, i.stock_drawn_ml::text as found
						from incoming_preparations i
						where i.stock_drawn_ml < 0
							and abs(i.stock_drawn_ml + coalesce(i.added_diluent_ml, 0) + coalesce(i.lidocaine_ml, 0)
								- coalesce(i.discarded_ml, 0) - coalesce((
									select sum(j.volume_ml)
									from merged_injections j
									where j.record_number = i.record_number and j.session_number = i.session_number
										and j.preparation = i.preparation), 0)) > 0.05"""));
	}

}
