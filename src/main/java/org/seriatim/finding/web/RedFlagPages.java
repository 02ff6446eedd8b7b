package org.seriatim.finding.web;

import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Locale;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.finding.Channel;
import org.seriatim.finding.RaisedRedFlag;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.RedFlags;
import org.seriatim.finding.Reporter;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** The caution of a possible emergency as pages show it to everybody. */
@Component
class RedFlagPages {

	private final RedFlags redFlags;

	private final PatientDirectory patients;

	private final StaffDirectory staff;

	private final MessageSource messages;

	private final Clock clock;

	RedFlagPages(RedFlags redFlags, PatientDirectory patients, StaffDirectory staff, MessageSource messages,
			Clock clock) {
		this.redFlags = redFlags;
		this.patients = patients;
		this.staff = staff;
		this.messages = messages;
		this.clock = clock;
	}

	/**
	 * A possible emergency, without what it is.
	 *
	 * @param raised when, and by whom
	 * @param acknowledged by whom, when and after how long; none while it waits
	 */
	record RedFlagLine(String raised, @Nullable String acknowledged) {
	}

	ModelAndView emergency(PatientId patient, HttpStatus status) {
		return new ModelAndView("finding/emergency", status)
			.addObject("patient", this.patients.requireExisting(patient))
			.addObject("signs", Choice.ofWords("red-flag-sign", RedFlagSign.values()))
			.addObject("reporters", Choice.ofWords("reporter", Reporter.values()))
			.addObject("channels", Choice.ofWords("channel", Channel.PHONE, Channel.VISIT))
			.addObject("redFlags", openOf(patient));
	}

	List<RedFlagLine> openOf(PatientId patient) {
		return this.redFlags.openOf(patient).stream().map(this::line).toList();
	}

	RedFlagLine line(RaisedRedFlag flag) {
		return new RedFlagLine(
				say("finding.red-flag.raised", Written.time(flag.raisedAt(), this.clock.getZone()),
						name(flag.raisedBy())),
				(flag.acknowledgedAt() != null) ? say("finding.red-flag.acknowledged",
						Written.time(flag.acknowledgedAt(), this.clock.getZone()), name(flag.acknowledgedBy()),
						flag.timeToAcknowledgement().map(this::lasting).orElse("")) : null);
	}

	/** A duration in the two largest units that it needs. */
	String lasting(Duration duration) {
		if (duration.toDays() > 0) {
			return say("finding.lasting.days", duration.toDays(), duration.toHoursPart());
		}
		return (duration.toHours() > 0) ? say("finding.lasting.hours", duration.toHours(), duration.toMinutesPart())
				: say("finding.lasting.minutes", duration.toMinutes());
	}

	String name(@Nullable StaffId id) {
		return (id == null) ? say("finding.nobody-known")
				: this.staff.byId(id).map(StaffMember::name).orElseGet(() -> say("finding.nobody-known"));
	}

	private String say(String key, Object... arguments) {
		return this.messages.getMessage(key, arguments, locale());
	}

	private static Locale locale() {
		return LocaleContextHolder.getLocale();
	}

}
