package org.seriatim.followup.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.Rule;
import org.seriatim.followup.domain.FollowUp;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Written;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;

/**
 * A row of the follow-up list, ready to be shown.
 *
 * @param person family and given name, or the record number where none was entered
 * @param statusKind the kind of the status component
 * @param firstDay first day that holds
 * @param overdueSince the last day, once it has passed
 * @param firstIfLumpPersisted a later first day, where the answer is open
 * @param contactDay day of the next contact
 * @param bookedFor day and time of the next booked treatment
 * @param booking message key of what is wrong with it, if anything is
 * @param why the rules in words, for those who may know
 */
record FollowUpRow(PatientId patient, SeriesId series, SessionId lastSession, String person, String recordNumber,
		@Nullable String phone, int session, String treatedOn, String statusKind, String status,
		@Nullable String firstDay, @Nullable String lastDay, @Nullable String overdueSince,
		@Nullable String firstIfLumpPersisted, boolean overridden, @Nullable String contactDay, boolean contactDue,
		@Nullable String bookedFor, @Nullable String booking, List<String> why) {

	static FollowUpRow of(FollowUp row, AdviceWording wording, Clock clock) {
		var today = LocalDate.now(clock);
		var standing = row.standing();
		var advice = standing.advice();
		var booking = row.booking(clock.getZone());
		var person = Stream.of(row.familyName(), row.givenName())
			.filter(Objects::nonNull)
			.collect(Collectors.joining(", "));
		return new FollowUpRow(standing.patient(), advice.series(), advice.session(),
				person.isEmpty() ? row.recordNumber() : person, row.recordNumber(), row.phone(), advice.sessionNumber(),
				Written.day(advice.treatedOn()), kind(advice.status()), wording.brief(advice.status()),
				day(standing.first()), day(standing.last()),
				row.isOverdueOn(today) ? Written.day(Objects.requireNonNull(standing.last())) : null,
				standing.isOverridden() ? null : day(advice.firstIfLumpPersisted()), standing.isOverridden(),
				day(advice.nextContact()), row.isContactDueOn(today),
				(row.bookedFor() != null) ? Written.time(row.bookedFor(), clock.getZone()) : null, switch (booking) {
					case NONE, SUPPORTED -> null;
					case ON_HOLD -> "followup.booking.on-hold";
					case TOO_EARLY -> "followup.booking.too-early";
					case TOO_LATE -> "followup.booking.too-late";
				}, advice.ruleWords().stream().map(Rule::of).map(wording::of).toList());
	}

	private static @Nullable String day(@Nullable LocalDate day) {
		return (day != null) ? Written.weekday(day) : null;
	}

	/** The kind of the status component. */
	static String kind(AdviceStatus status) {
		return switch (status) {
			case HOLD -> "hold";
			case WAIT_FOR_CONTACT -> "wait";
			case REVIEW_PLAN -> "review";
			case WINDOW -> "window";
		};
	}

}
