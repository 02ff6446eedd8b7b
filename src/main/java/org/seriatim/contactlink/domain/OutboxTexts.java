package org.seriatim.contactlink.domain;

import java.util.Locale;
import java.util.Objects;
import java.util.Optional;

import org.seriatim.access.InstallationKey;
import org.seriatim.contactlink.AppointmentReminders;
import org.seriatim.contactlink.MailText;
import org.seriatim.patient.PatientDirectory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Service;

/**
 * Puts together what messages of the outbox say, each time from the settings and records
 * of that moment.
 */
@Service
public class OutboxTexts {

	private final KeepLinkSettings settings;

	private final ContactLinks links;

	private final ObjectProvider<AppointmentReminders> reminders;

	private final PatientDirectory patients;

	private final InstallationKey key;

	private final MessageSource messages;

	OutboxTexts(KeepLinkSettings settings, ContactLinks links, ObjectProvider<AppointmentReminders> reminders,
			PatientDirectory patients, InstallationKey key, MessageSource messages) {
		this.settings = settings;
		this.links = links;
		this.reminders = reminders;
		this.patients = patients;
		this.key = key;
		this.messages = messages;
	}

	/** What a message says; empty if it is not to go any more. */
	public Optional<OutboxText> of(OutboxMessage message) {
		if (this.patients.byId(message.patient()).isEmpty()) {
			return Optional.empty();
		}
		return switch (message.purpose()) {
			case LINK -> link(Objects.requireNonNull(message.link()));
			case REMINDER -> reminder(message);
		};
	}

	private Optional<OutboxText> link(LinkId id) {
		var current = this.settings.current();
		return this.links.byId(id).filter(PatientLink::open).map((link) -> {
			var address = this.links.addressOf(id);
			return new OutboxText(current.writtenSubject(), current.writtenBody(address), address + "/no-mail");
		});
	}

	private Optional<OutboxText> reminder(OutboxMessage message) {
		var known = this.reminders.getIfAvailable();
		if (known == null) {
			return Optional.empty();
		}
		return known.textOf(Objects.requireNonNull(message.appointment()), Objects.requireNonNull(message.starts()))
			.map((text) -> withOptOut(text, message));
	}

	private OutboxText withOptOut(MailText text, OutboxMessage message) {
		if (this.settings.current().baseAddress() == null) {
			return new OutboxText(text.subject(), text.body(), null);
		}
		var address = this.settings.current().addressOf("no-reminders/" + LinkToken.ofReminder(message.id(), this.key));
		return new OutboxText(text.subject(), text.body() + "\n"
				+ this.messages.getMessage("contactlink.reminder.opt-out", new Object[] { address }, Locale.ENGLISH)
				+ "\n", address);
	}

}
