package org.seriatim.appointment.web;

import java.util.Objects;
import java.util.regex.Pattern;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.appointment.domain.HealthWords;
import org.seriatim.appointment.domain.ReminderSettings;
import org.seriatim.contactlink.PatientMail.Clinic;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.ShownVersion;
import org.springframework.validation.BindingResult;

/**
 * When and in which words the clinic reminds of appointments.
 *
 * @param basedOn the version that the form was filled from
 * @param reminderDays empty for no reminders
 */
record ReminderForm(@ShownVersion @NotNull @Nullable Integer basedOn,
		@Decimal(min = "1", max = "14", unit = "days") @Nullable String reminderDays,
		@Size(max = 120) @Nullable String reminderSubject, @Size(max = 2000) @Nullable String reminderBody) {

	private static final Pattern PLACE = Pattern.compile("\\{[^{}]*}");

	private static final Pattern ADDRESS = Pattern.compile("(?i)\\b(https?://|www\\.)\\S*");

	/** What a form without faults says. */
	ReminderSettings toSettings() {
		return new ReminderSettings(Objects.requireNonNull(this.basedOn),
				(stripped(this.reminderDays) != null) ? DecimalText.whole(this.reminderDays) : null,
				stripped(this.reminderSubject),
				(stripped(this.reminderBody) != null) ? stripped(this.reminderBody) + "\n" : null);
	}

	/** What a single field cannot know of its own. */
	void check(Clinic clinic, BindingResult errors) {
		var subject = stripped(this.reminderSubject);
		var body = stripped(this.reminderBody);
		if (stripped(this.reminderDays) != null) {
			if (subject == null) {
				errors.rejectValue("reminderSubject", "appointment.reminders.missing");
			}
			if (body == null) {
				errors.rejectValue("reminderBody", "appointment.reminders.missing");
			}
		}
		if (subject != null) {
			if (subject.chars().anyMatch(Character::isISOControl)) {
				errors.rejectValue("reminderSubject", "appointment.reminders.one-line");
			}
			check("reminderSubject", subject, clinic, errors);
		}
		if (body != null) {
			for (var needed : new String[] { ReminderSettings.DATE, ReminderSettings.TIME }) {
				if (!body.contains(needed)) {
					errors.rejectValue("reminderBody", "appointment.reminders.place.needed", new Object[] { needed },
							null);
				}
			}
			check("reminderBody", body, clinic, errors);
		}
	}

	private static void check(String field, String template, Clinic clinic, BindingResult errors) {
		PLACE.matcher(template)
			.results()
			.map((place) -> place.group())
			.filter((place) -> !ReminderSettings.PLACES.contains(place))
			.findFirst()
			.ifPresent((place) -> errors.rejectValue(field, "appointment.reminders.place.unknown",
					new Object[] { place }, null));
		var rest = PLACE.matcher(template).replaceAll(" ");
		if (rest.indexOf('{') >= 0 || rest.indexOf('}') >= 0) {
			errors.rejectValue(field, "appointment.reminders.place.open");
		}
		if (template.contains(ReminderSettings.CLINIC) && clinic.name() == null) {
			errors.rejectValue(field, "appointment.reminders.no-name");
		}
		if (template.contains(ReminderSettings.PHONE) && clinic.phone() == null) {
			errors.rejectValue(field, "appointment.reminders.no-phone");
		}
		HealthWords.firstIn(rest)
			.ifPresent(
					(word) -> errors.rejectValue(field, "appointment.reminders.health", new Object[] { word }, null));
		if (ADDRESS.matcher(rest).find()) {
			errors.rejectValue(field, "appointment.reminders.address");
		}
	}

	private static @Nullable String stripped(@Nullable String text) {
		return (text == null || text.isBlank()) ? null : text.replace("\r\n", "\n").strip();
	}

}
