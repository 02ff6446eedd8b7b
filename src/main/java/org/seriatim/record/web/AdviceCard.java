package org.seriatim.record.web;

import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceDecision;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Remark;
import org.seriatim.followup.Rule;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.record.domain.AppointmentEntry;
import org.seriatim.shell.Written;

/**
 * The advice on a series as its card shows it: what to do first, the window, the reasons
 * with the records that they rest on, and what a practitioner made of it.
 *
 * @param id the advice, for the decision
 * @param tone tone of the card and kind of its status
 * @param days first, target and last day of the advised window; none on hold
 * @param own the practitioner's own window, where the advice was overridden
 * @param gauge the window as a scale of days since the session
 * @param technique what to do differently
 * @param basis what it was computed from, and when
 * @param decision what holds; none while nobody has decided, or the advice has changed
 * since
 * @param outdated a decision on an earlier advice that said something else
 */
record AdviceCard(String id, String tone, String status, String session, List<Day> days, @Nullable String own,
		@Nullable Gauge gauge, @Nullable String overdue, @Nullable String ifPersisted, @Nullable String contact,
		boolean contactDue, List<ReasonLine> reasons, List<RemarkLine> technique, List<RemarkLine> cautions,
		String basis, @Nullable String decision, @Nullable String decisionReason, @Nullable String outdated,
		boolean onHold, List<Booking> bookings) {

	/**
	 * A day of the window.
	 *
	 * @param label first, target or last day
	 * @param day with its weekday
	 * @param basis days since the session, and from today
	 */
	record Day(String label, String day, String basis) {
	}

	/** A record that a reason rests on; without an address it is not on this page. */
	record Link(String text, @Nullable String href) {
	}

	/** A rule that fired. */
	record ReasonLine(String rule, String sentence, List<Link> evidence) {
	}

	/** A technique note or a caution. */
	record RemarkLine(String sentence, List<Link> evidence) {
	}

	/**
	 * A booked time.
	 *
	 * @param problem what is wrong with a treatment on that day, if anything is
	 */
	record Booking(String text, @Nullable String problem) {
	}

	/**
	 * The days since the session as a scale, in percent of its width.
	 *
	 * @param ticks days that the scale names
	 * @param window the advised window
	 * @param target the day to aim for
	 * @param today where today stands; none beyond the scale
	 * @param words the same in words
	 */
	record Gauge(List<Tick> ticks, TimeLine.Span window, String target, @Nullable String today, String words) {
	}

	/** A day that the scale names. */
	record Tick(String at, String text) {
	}

	/** What the pages know beside the advice itself. */
	record Surroundings(LocalDate today, ZoneId zone, @Nullable String decidedBy, boolean licensed,
			List<AppointmentEntry> upcoming) {
	}

	static AdviceCard of(StandingAdvice standing, Surroundings now, AdviceWording wording, Texts texts) {
		var advice = standing.advice();
		var decision = standing.decision().orElse(null);
		var overdue = now.today().isAfter(Optional.ofNullable(standing.last()).orElse(LocalDate.MAX));
		return new AdviceCard(standing.id().toString(), overdue ? "overdue" : tone(advice.status()),
				wording.of(advice.status()),
				texts.say("record.advice.session", advice.sessionNumber(), Written
					.day(advice.treatedOn()), ChronoUnit.DAYS.between(advice.treatedOn(), now.today())),
				days(advice, now.today(), texts),
				(standing.isOverridden() && standing.first() != null && standing.last() != null) ? texts
					.say("record.advice.own", Written.weekday(standing.first()), Written.weekday(standing.last()))
						: null,
				gauge(advice, now.today(), texts),
				overdue ? texts.say("record.advice.overdue", Written.day(standing.last()),
						ChronoUnit.DAYS.between(standing.last(), now.today())) : null,
				(advice.firstIfLumpPersisted() != null)
						? texts.say("record.advice.if-persisted", Written.weekday(advice.firstIfLumpPersisted()))
						: null,
				(advice.nextContact() != null) ? texts.say("record.advice.contact",
						Written.weekday(advice.nextContact()), texts.away(advice.nextContact(), now.today())) : null,
				advice.nextContact() != null && !advice.nextContact().isAfter(now.today()),
				reasons(advice, now, wording),
				advice.techniqueNotes().stream().map((note) -> remark(note, now, wording)).toList(),
				cautions(advice, now.today()).stream().map((note) -> remark(note, now, wording)).toList(),
				texts.say("record.advice.basis", advice.protocolVersion(), standing.snapshot(),
						Written.time(standing.computedAt(), now.zone())),
				(decision != null) ? decided(decision, now, texts) : null,
				(decision != null) ? decision.reason() : null, outdated(standing, now, texts),
				advice.status() == AdviceStatus.HOLD, bookings(standing, now, texts));
	}

	static String tone(AdviceStatus status) {
		return switch (status) {
			case HOLD -> "hold";
			case WAIT_FOR_CONTACT -> "wait";
			case REVIEW_PLAN -> "review";
			case WINDOW -> "window";
		};
	}

	private static List<Day> days(Advice advice, LocalDate today, Texts texts) {
		var days = new ArrayList<Day>();
		if (advice.first() != null && advice.target() != null && advice.last() != null) {
			days.add(day("first", advice.first(), advice, today, texts));
			if (!advice.target().equals(advice.first())) {
				days.add(day("target", advice.target(), advice, today, texts));
			}
			days.add(day("last", advice.last(), advice, today, texts));
		}
		return days;
	}

	private static Day day(String which, LocalDate day, Advice advice, LocalDate today, Texts texts) {
		return new Day(texts.say("record.advice." + which), Written.weekday(day), texts.say("record.advice.day",
				ChronoUnit.DAYS.between(advice.treatedOn(), day), texts.away(day, today)));
	}

	private static @Nullable Gauge gauge(Advice advice, LocalDate today, Texts texts) {
		if (advice.first() == null || advice.target() == null || advice.last() == null) {
			return null;
		}
		var session = advice.treatedOn();
		var end = today.isAfter(advice.last()) ? today : advice.last();
		var longest = ChronoUnit.DAYS.between(session, end);
		var step = (longest <= 100) ? 14 : (longest <= 400) ? 56 : 182;
		var scale = new TimeScale(session, end.plusDays(Math.max(3, longest / 20)));
		var ticks = new ArrayList<Tick>();
		for (var day = 0; day <= ChronoUnit.DAYS.between(session, scale.to()); day += step) {
			ticks.add(new Tick(scale.at(session.plusDays(day)), Integer.toString(day)));
		}
		return new Gauge(ticks,
				new TimeLine.Span(scale.at(advice.first()), scale.between(advice.first(), advice.last())),
				scale.at(advice.target()), today.isBefore(session) ? null : scale.at(today),
				texts.say("record.advice.gauge", ChronoUnit.DAYS.between(session, advice.first()),
						ChronoUnit.DAYS.between(session, advice.last()), ChronoUnit.DAYS.between(session, today)));
	}

	/** That the window has passed is said above, by the window that holds. */
	private static List<Remark> cautions(Advice advice, LocalDate today) {
		var passed = advice.last() != null && today.isAfter(advice.last());
		return advice.cautionsOn(passed ? advice.last() : today);
	}

	/** Skin that is not calm changes no date and stands among the cautions. */
	private static List<ReasonLine> reasons(Advice advice, Surroundings now, AdviceWording wording) {
		return advice.reasons()
			.stream()
			.filter((reason) -> reason.rule() != Rule.OPEN_SKIN)
			.map((reason) -> new ReasonLine(wording.of(reason.rule()), wording.of(reason.sentence()),
					links(reason.evidence(), now, wording)))
			.toList();
	}

	private static RemarkLine remark(Remark remark, Surroundings now, AdviceWording wording) {
		return new RemarkLine(wording.of(remark.sentence()), links(remark.evidence(), now, wording));
	}

	/** The clinic's curve is a page of its own, which not everybody may open. */
	private static List<Link> links(List<Evidence> evidence, Surroundings now, AdviceWording wording) {
		return evidence.stream()
			.map((one) -> new Link(wording.of(one),
					(one.kind() != Evidence.Kind.CURVE || now.licensed()) ? Anchors.of(one) : null))
			.toList();
	}

	private static String decided(AdviceDecision decision, Surroundings now, Texts texts) {
		return texts.say(decision.accepted() ? "record.advice.accepted" : "record.advice.overridden",
				Texts.text(now.decidedBy()), Written.time(decision.decidedAt(), now.zone()));
	}

	private static @Nullable String outdated(StandingAdvice standing, Surroundings now, Texts texts) {
		var latest = standing.latestDecision();
		return (latest != null && standing.changedSince())
				? texts.say("record.advice.outdated", decided(latest, now, texts)) : null;
	}

	private static List<Booking> bookings(StandingAdvice standing, Surroundings now, Texts texts) {
		return now.upcoming()
			.stream()
			.filter((entry) -> !LocalDate.ofInstant(entry.startsAt(), now.zone()).isBefore(now.today()))
			.map((entry) -> new Booking(
					texts.say("record.booking", texts.word("appointment-purpose", entry.purpose()),
							Written.time(entry.startsAt(), now.zone()), entry.practitioner()),
					problem(entry, standing, now, texts)))
			.toList();
	}

	private static @Nullable String problem(AppointmentEntry entry, StandingAdvice standing, Surroundings now,
			Texts texts) {
		if (entry.purpose() != AppointmentPurpose.TREATMENT) {
			return null;
		}
		var day = LocalDate.ofInstant(entry.startsAt(), now.zone());
		var first = standing.first();
		var last = standing.last();
		if (first == null || last == null) {
			return texts.say("record.booking.on-hold");
		}
		if (day.isBefore(first)) {
			return texts.say("record.booking.too-early", Written.day(first));
		}
		return day.isAfter(last) ? texts.say("record.booking.too-late", Written.day(last)) : null;
	}

}
