package org.seriatim.demo.domain;

import java.sql.Types;
import java.time.Clock;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;

import org.seriatim.screening.ScreeningItem;
import org.seriatim.screening.ScreeningItem.Level;
import org.springframework.context.annotation.Profile;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * What the invented clinic settled before its last sessions: answers, decisions,
 * consents, weights and times of the cream, none of which is in the bundle. All of it is
 * invented, the same for the same patients.
 */
@Component
@Profile("demo")
class InventedScreenings {

	/** Patients of a hundred who answer yes. */
	private static final Map<ScreeningItem, Integer> YES = new EnumMap<>(Map.of(ScreeningItem.PIH_MELASMA, 12,
			ScreeningItem.HERPES_HISTORY, 10, ScreeningItem.BLEEDING, 5, ScreeningItem.RECENT_PROCEDURE, 4,
			ScreeningItem.ISOTRETINOIN, 3, ScreeningItem.IMMUNE_DISEASE, 3, ScreeningItem.ACTIVE_ACNE_SEVERE, 6,
			ScreeningItem.KELOID_TENDENCY, 3, ScreeningItem.VACCINE_DENTAL_ILLNESS, 5));

	/** The last session of each open series. */
	private static final String LAST = """
			with last as (
				select distinct on (s.patient_id) s.patient_id, s.treated_on, s.practitioner_id, s.topical_minutes,
					min(s.treated_on) over (partition by s.patient_id) as first_on, p.record_number, p.birth_date,
					s.combination,
					max(s.weight_kg) over (partition by s.patient_id) as weight_kg
				from session s join series c on c.id = s.series_id join patient p on p.id = s.patient_id
				where c.status = 'open'
				order by s.patient_id, s.number desc)
			""";

	private final JdbcClient database;

	private final Clock clock;

	InventedScreenings(JdbcClient database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	/**
	 * @param assistant who asks today's first questions
	 */
	@Transactional
	public void add(String assistant) {
		for (var item : ScreeningItem.values()) {
			if (item != ScreeningItem.CONSENT_MISSING && item != ScreeningItem.AGE_UNDER_18) {
				answer(item);
				begin(item, assistant);
			}
		}
		this.database.sql(LAST + """
				insert into treatment_consent (patient_id, given_on, document_reference, recorded_by)
				select patient_id, first_on, 'C-' || record_number, practitioner_id from last
				where abs(hashtext(record_number || 'consent')) % 100 < 95""").update();
		this.database.sql(LAST + """
				insert into body_weight (patient_id, weighed_on, weight_kg, recorded_by)
				select patient_id, treated_on - 2, round(weight_kg + 0.4, 1), practitioner_id from last
				where weight_kg is not null and abs(hashtext(record_number || 'weight')) % 2 = 0""").update();
		this.database
			.sql(LAST
					+ """
							insert into numbing (patient_id, started_at, stopped_at, recorded_by)
							select patient_id, (treated_on + time '09:00') at time zone :zone,
								(treated_on + time '09:00') at time zone :zone + make_interval(mins => topical_minutes), practitioner_id
							from last where topical_minutes > 0""")
			.param("zone", this.clock.getZone().getId())
			.update();
		this.database.sql(LAST + """
				insert into numbing_plan (patient_id, minutes, recorded_by)
				select patient_id, topical_minutes, practitioner_id from last
				where topical_minutes between 1 and 300""").update();
	}

	private void answer(ScreeningItem item) {
		this.database
			.sql(LAST
					+ """
							insert into screening_answer (patient_id, item, asked_on, answer, asked_by, confirmed_by, last_dose_on,
								list_version)
							select patient_id, :item, treated_on, said, practitioner_id, practitioner_id,
								case when said = 'yes' and :dose then treated_on - 50 end, :list
							from (select *, case when abs(hashtext(record_number || :item)) % 100 < :yes then 'yes' else 'no' end as said
								from last) asked
							where combination <> 'none' or :always""")
			.param("item", item.word())
			.param("yes", YES.getOrDefault(item, 0))
			.param("dose", item == ScreeningItem.ISOTRETINOIN)
			.param("always", item.asked() != ScreeningItem.Asked.IF_ENERGY_DEVICE)
			.param("list", ScreeningItem.FIRST_LIST)
			.update();
		this.database.sql("""
				insert into screening_decision (patient_id, item, decided_on, about, verdict, reason, decided_by,
					list_version)
				select patient_id, item, asked_on, 'yes', :verdict, :reason, confirmed_by, list_version
				from screening_answer where item = :item and answer = 'yes'""")
			.param("item", item.word())
			.param("verdict", (item.level() == Level.STOP) ? "may_treat" : "acknowledged")
			.param("reason",
					(item.level() == Level.STOP) ? "Looked at and discussed; no raised scar in the treated area."
							: null,
					Types.VARCHAR)
			.update();
	}

	/** Whoever is booked for today was asked some of it already. */
	private void begin(ScreeningItem item, String assistant) {
		this.database.sql("""
				insert into screening_answer (patient_id, item, asked_on, answer, asked_by, list_version)
				select distinct a.patient_id, :item, :today, 'no', m.id, :list
				from appointment a join staff m on m.name = :assistant
				where a.purpose = 'treatment' and a.status in ('booked', 'arrived')
					and (a.starts_at at time zone :zone)::date = :today and :first
				on conflict do nothing""")
			.param("item", item.word())
			.param("today", LocalDate.now(this.clock))
			.param("assistant", assistant)
			.param("zone", this.clock.getZone().getId())
			.param("list", ScreeningItem.FIRST_LIST)
			.param("first", item.ordinal() <= ScreeningItem.ISOTRETINOIN.ordinal())
			.update();
	}

}
