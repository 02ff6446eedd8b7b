package org.seriatim.privacy.domain;

import java.util.Locale;

/** What is kept for a time of the clinic's own choosing. */
public enum RetainedKind {

	/** A patient's record without an open series, counted from its last entry. */
	RECORD("""
			select p.id as patient, p.record_number, greatest(p.recorded_at::date,
				(select max(ended_on) from series where patient_id = p.id),
				(select max(treated_on) from session where patient_id = p.id),
				(select max(assessed_on) from scar_assessment where patient_id = p.id),
				(select max(assessed_on) from scar_count where patient_id = p.id),
				(select max(assessed_on) from pore_assessment where patient_id = p.id),
				(select max(assessed_on) from global_assessment where patient_id = p.id),
				(select max(coalesce(closed_on, first_noted_on)) from finding where patient_id = p.id),
				(select max(observed_on) from finding_observation o join finding f on f.id = o.finding_id
					where f.patient_id = p.id),
				(select max(contacted_on) from contact where patient_id = p.id),
				(select max(asked_on) from screening_answer where patient_id = p.id),
				(select max(weighed_on) from body_weight where patient_id = p.id),
				(select max(coalesce(withdrawn_on, given_on)) from treatment_consent where patient_id = p.id),
				(select max(starts_at)::date from appointment where patient_id = p.id)) as last_on, 1 as entries
			from patient p
			where not exists (select from series where patient_id = p.id and status = 'open')
				and not (p.record_number ~ '^E-[0-9A-F]{12}$' and p.family_name is null)"""),

	/** What an assistant typed and a practitioner recorded or discarded since. */
	DRAFT("""
			select d.patient_id as patient, p.record_number, max(d.settled_at)::date as last_on, count(*) as entries
			from session_draft d join patient p on p.id = d.patient_id
			where d.status <> 'open' and d.content <> '{}' and d.settled_at < :before
			group by 1, 2"""),

	/** Advice that another one replaced and nobody decided on. */
	ADVICE("""
			select a.patient_id as patient, p.record_number, max(a.replaced_at)::date as last_on, count(*) as entries
			from advice a join patient p on p.id = a.patient_id
			where a.replaced_at < :before and not exists (select from advice_decision where advice_id = a.id)
			group by 1, 2""");

	private final String held;

	RetainedKind(String held) {
		this.held = held;
	}

	/** A query for what is held of the kind by patient; parameter {@code before}. */
	String held() {
		return this.held;
	}

	/** The word in the database. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
