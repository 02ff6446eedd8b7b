package org.seriatim.finding.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EarlierVersions;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.domain.Contact;
import org.seriatim.finding.domain.Finding;
import org.seriatim.patient.Corrections;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.seriatim.treatment.RecordedSession;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** The page of a contact. */
@Component
class ContactPages {

	private final PatientDirectory patients;

	private final FindingPages findings;

	private final RedFlagPages redFlags;

	private final EarlierVersions earlierVersions;

	private final Corrections corrections;

	private final Clock clock;

	ContactPages(PatientDirectory patients, FindingPages findings, RedFlagPages redFlags,
			EarlierVersions earlierVersions, Corrections corrections, Clock clock) {
		this.patients = patients;
		this.findings = findings;
		this.redFlags = redFlags;
		this.earlierVersions = earlierVersions;
		this.corrections = corrections;
		this.clock = clock;
	}

	/**
	 * @param recorded the contact that is corrected, none for a new one
	 * @param lumps those that are asked for one by one
	 */
	ModelAndView form(RecordedSession session, @Nullable Contact recorded, List<Finding> lumps, HttpStatus status) {
		return new ModelAndView("finding/contact-form", status)
			.addObject("patient", this.patients.requireExisting(session.patient()))
			.addObject("treated", session)
			.addObject("treatedOn", Written.day(session.treatedOn()))
			.addObject("contact", (recorded != null) ? recorded.id() : null)
			.addObject("lumpNames", lumps.stream().map(this.findings::name).toList())
			.addObject("signs", Choice.ofWords("red-flag-sign", RedFlagSign.values()))
			.addObject("channels",
					(recorded != null) ? Choice.ofWords("channel", Channel.values())
							: Choice.ofWords("channel", Channel.PHONE, Channel.VISIT))
			.addObject("outcomes", Choice.ofWords("contact-outcome", ContactOutcome.values()))
			.addObject("redFlags", this.redFlags.openOf(session.patient()))
			.addObject("today", LocalDate.now(this.clock))
			.addObject("corrections", (recorded != null) ? corrections(recorded) : List.of());
	}

	private List<Corrections.WrittenCorrection> corrections(Contact contact) {
		Locale locale = LocaleContextHolder.getLocale();
		return this.corrections.written(this.earlierVersions.of("contact", contact.id().value()),
				Map.of("channel", "channel", "outcome", "contact-outcome"), (column, value) -> null, locale);
	}

}
