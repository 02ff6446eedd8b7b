package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

import org.seriatim.finding.ContactFacts;
import org.seriatim.finding.ObservationFacts;

/**
 * When to contact the patient after a session: on the protocol's days, then again and
 * again until the answer is known or the next session comes. Contacts that end too early
 * are what lets a next session fall on skin where a lump is still there.
 */
final class ContactPlan {

	private ContactPlan() {
	}

	/**
	 * The day of the next contact, which may have passed; empty when the protocol's days
	 * are over and the answer is known.
	 * @param answerOpen whether a lump is still there or nobody knows
	 */
	static Optional<LocalDate> nextContact(AdvisedCase advised, boolean answerOpen) {
		var last = lastContact(advised);
		var planned = advised.protocol()
			.contactDays()
			.stream()
			.map(advised::day)
			.filter((day) -> day.isAfter(last))
			.findFirst();
		if (planned.isPresent() || !(answerOpen || leftOpen(advised, last))) {
			return planned;
		}
		return Optional.of(last.plusDays(advised.protocol().contactEveryDays()));
	}

	/**
	 * The last day on which somebody tried to reach the patient, reported on a lump or
	 * assessed the patient; the day of the session itself when there was none.
	 */
	private static LocalDate lastContact(AdvisedCase advised) {
		var days = answered(advised);
		days.add(advised.session().treatedOn());
		advised.contacts().stream().map(ContactFacts::contactedOn).forEach(days::add);
		return days.last();
	}

	private static TreeSet<LocalDate> answered(AdvisedCase advised) {
		var days = new TreeSet<>(advised.assessedSince());
		advised.lumps()
			.stream()
			.flatMap((lump) -> lump.lump().observations().stream())
			.map(ObservationFacts::observedOn)
			.forEach(days::add);
		return days;
	}

	/** Whether the last contact failed, or told of a lump. */
	private static boolean leftOpen(AdvisedCase advised, LocalDate last) {
		var contacts = advised.contacts().stream().filter((contact) -> contact.contactedOn().equals(last)).toList();
		return contacts.stream().anyMatch(ContactFacts::reportsLump)
				|| (failed(contacts) && !answered(advised).contains(last));
	}

	private static boolean failed(List<ContactFacts> contacts) {
		return !contacts.isEmpty() && contacts.stream().noneMatch(ContactFacts::hasReached);
	}

}
