package org.seriatim.demo.domain;

import java.util.List;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.appointment.ReminderTexts;
import org.seriatim.assessment.Region;
import org.seriatim.contactlink.AppointmentReminders;
import org.seriatim.contactlink.LinkSetUp;
import org.seriatim.finding.PatientReport.Lumps;
import org.seriatim.patient.PatientId;
import org.springframework.context.annotation.Profile;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * What passed between the invented clinic and its patients: links, some answered, and
 * reminders. There is no mail server, so that what would go waits in the outbox.
 */
@Component
@Profile("demo")
class InventedContacts {

	private static final LinkSetUp.Words WORDS = new LinkSetUp.Words("Clinic at the Old Harbour", "+00 555 0100", """
			If you see worse, cannot breathe well, or your skin turns pale, grey or blue, call the emergency services \
			now. For strong pain or fever, call our doctor on duty, day and night.""", "+00 555 0199",
			"on working days from 8 to 17, by 10 on the next working day", "http://localhost:8080",
			"desk@clinic.example");

	private static final List<Answer> ANSWERS = List.of(
			new Answer(Lumps.ABSENT, Set.of(), 0, "All smooth since the weekend."),
			new Answer(Lumps.PRESENT, Set.of(Region.CHEEK_MEDIAL_LEFT), 2, null),
			new Answer(Lumps.UNSURE, Set.of(), 1, "I think there is something small, but only when I press."));

	/** Whatever the day, somebody is booked before so many days are over. */
	private static final int DAYS = 5;

	/** So many more were sent a link than have answered. */
	private static final int UNANSWERED = 4;

	private final JdbcClient database;

	private final LinkSetUp links;

	private final ReminderTexts reminders;

	private final AppointmentReminders due;

	InventedContacts(JdbcClient database, LinkSetUp links, ReminderTexts reminders, AppointmentReminders due) {
		this.database = database;
		this.links = links;
		this.reminders = reminders;
		this.due = due;
	}

	private record Answer(Lumps lumps, Set<Region> where, int painNrs, @Nullable String said) {
	}

	/** Adds what passed, once the records and their advice are there. */
	void add() {
		this.links.say(WORDS);
		var asked = this.database.sql("""
				select advice.patient_id from advice join patient on patient.id = patient_id
				where replaced_at is null and status <> 'hold' and next_contact_day is not null and email is not null
				order by next_contact_day, record_number limit :most""")
			.param("most", ANSWERS.size() + UNANSWERED)
			.query((row, index) -> new PatientId(row.getObject("patient_id", UUID.class)))
			.list();
		asked.forEach(this.links::make);
		for (int one = 0; one < Math.min(ANSWERS.size(), asked.size()); one++) {
			var answer = ANSWERS.get(one);
			this.links.answer(asked.get(one), answer.lumps(), answer.where(), answer.painNrs(), answer.said());
		}
		this.reminders.set(DAYS, "Your appointment", """
				Hello,

				we expect you on {date}. Please be here at {time}.

				If you cannot come, please call us: {phone}

				{clinic}
				""");
		this.due.bringUpToDate();
	}

}
