package org.seriatim.demo.domain;

import java.time.Clock;
import java.time.OffsetDateTime;

import org.springframework.context.annotation.Profile;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * What was done about the findings of the invented clinic, and who judged them: none of
 * it travels in a bundle, so it is written here, in statements that choose by themselves.
 */
@Component
@Profile("demo")
class InventedCare {

	private final JdbcClient database;

	private final Clock clock;

	InventedCare(JdbcClient database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	/** Once, over what a bundle has brought. */
	@Transactional
	public void describe() {
		run("""
				update finding set onset_first = first_noted_on - 2, onset_last = first_noted_on, noticed_by = 'patient',
					how_reported = 'phone', inflammatory = false, visibility = 1 + (abs(hashtext(code)) % 3),
					course = case when closed_on is not null then 'resolved' else 'improving' end,
					version = version + 1, recorded_at = :now, recorded_by = (select id from staff where name = 'i.sandell'),
					correction_reason = 'seen at the visit'
				where kind = 'lump' and abs(hashtext(code)) % 9 = 0 and session_id is not null
					and first_noted_on - 2 >= (select treated_on from session where session.id = session_id)""");
		run("""
				insert into finding_action (patient_id, finding_id, done_on, action, carried_out, done_by, description,
					recorded_at, recorded_by)
				select patient_id, f.id, first_noted_on + 3, 'massage', 'home', null, 'twice a day, as explained', :now, s.id
				from finding f, staff s
				where visibility is not null and first_noted_on + 3 < current_date and s.name = 'i.sandell'""");
		run("""
				insert into finding_action (patient_id, finding_id, done_on, action, carried_out, done_by, description,
					recorded_at, recorded_by)
				select patient_id, f.id, first_noted_on + 1, 'medicine', 'clinic', s.id, 'by the clinic''s own protocol', :now,
					s.id
				from finding f, staff s
				where kind = 'infection_local' and first_noted_on + 1 < current_date and s.name = 'm.tarrow'""");
		run("""
				update finding set seriousness_criteria = '{medically_important}', serious = true, causality = 'possible',
					causality_by = (select id from staff where name = 'm.tarrow'), causality_on = first_noted_on + 1,
					noticed_by = 'practitioner', how_reported = 'visit', version = version + 1, recorded_at = :now,
					recorded_by = (select id from staff where name = 'm.tarrow'), correction_reason = 'assessed'
				where kind = 'infection_local' and first_noted_on + 1 < current_date""");
		run("""
				insert into finding_report (patient_id, finding_id, considered_on, considered_by, decision, reason, recipient,
					recorded_at, recorded_by)
				select patient_id, f.id, first_noted_on + 1, s.id, 'report', 'medically important', 'the maker of the product', :now,
					s.id
				from finding f, staff s
				where kind = 'infection_local' and first_noted_on + 1 < current_date and s.name = 'm.tarrow'""");
	}

	private void run(String statement) {
		this.database.sql(statement).param("now", OffsetDateTime.now(this.clock)).update();
	}

}
