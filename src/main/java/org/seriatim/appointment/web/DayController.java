package org.seriatim.appointment.web;

import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.domain.BookAppointment;
import org.seriatim.appointment.domain.DayDetails;
import org.seriatim.appointment.domain.DayDetails.Handled;
import org.seriatim.appointment.domain.DayDetails.Person;
import org.seriatim.appointment.domain.DayDetails.Treated;
import org.seriatim.appointment.domain.DayItem;
import org.seriatim.appointment.domain.DayItem.Detail;
import org.seriatim.appointment.domain.DayKind;
import org.seriatim.appointment.domain.DayList;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Paged;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/**
 * The list of the day: worked from top to bottom, and at its end everybody who should be
 * is called and booked. It says what to do and never why: findings, scores and the reason
 * of a hold are not for the desk.
 */
@Controller
@ConditionalOnWebApplication
class DayController {

	private static final int PAGE_SIZE = 50;

	private final DayList list;

	private final DayDetails details;

	private final BookingPages pages;

	private final BookAppointment booking;

	private final StaffDirectory staff;

	private final ClinicTimes times;

	DayController(DayList list, DayDetails details, BookingPages pages, BookAppointment booking, StaffDirectory staff,
			ClinicTimes times) {
		this.list = list;
		this.details = details;
		this.pages = pages;
		this.booking = booking;
		this.staff = staff;
		this.times = times;
	}

	/** How many there are of a kind, and where the list shows them alone. */
	record Count(String kind, long count, boolean chosen) {
	}

	/**
	 * One thing to do.
	 *
	 * @param tone kind of the status component
	 * @param what the kind in words
	 * @param text what is to be done
	 * @param days the days that it is about
	 * @param way how the patient is best reached, where that is to be done
	 * @param actions what leads to doing it
	 */
	record Line(String tone, String what, String text, String days, PatientId patient, String person,
			String recordNumber, @Nullable String phone, @Nullable String way, @Nullable String practitioner,
			List<Action> actions) {
	}

	/** A link to where it is done. */
	record Action(String label, String href, boolean main) {
	}

	/** What was done today. */
	record Done(String time, String who, String what, PatientId patient, String person, String recordNumber) {
	}

	@GetMapping("/today")
	ModelAndView show(@RequestParam(required = false) @Nullable DayKind kind,
			@RequestParam(required = false) @Nullable StaffId practitioner,
			@RequestParam(defaultValue = "1") int page) {
		var all = (practitioner != null) ? this.list.today(practitioner) : this.list.today();
		var numbers = all.stream()
			.collect(Collectors.groupingBy(DayItem::kind, () -> new EnumMap<>(DayKind.class), Collectors.counting()));
		var counts = Arrays.stream(DayKind.values())
			.map((one) -> new Count(one.word(), numbers.getOrDefault(one, 0L), one == kind))
			.toList();
		var chosen = all.stream().filter((item) -> kind == null || item.kind() == kind).toList();
		var pages = Math.max(1, (chosen.size() + PAGE_SIZE - 1) / PAGE_SIZE);
		var at = Math.max(1, Math.min(page, pages));
		var shown = chosen.subList((at - 1) * PAGE_SIZE, Math.min(chosen.size(), at * PAGE_SIZE));
		return new ModelAndView("appointment/today")
			.addObject("paged", new Paged<>(lines(shown), at, PAGE_SIZE, chosen.size()))
			.addObject("counts", counts)
			.addObject("all", all.size())
			.addObject("kind", (kind != null) ? kind.word() : null)
			.addObject("with", practitioner)
			.addObject("practitioners", this.pages.practitioners())
			.addObject("kinds", Choice.ofWords("appointment.today.kind", DayKind.values()))
			.addObject("written", Written.weekday(this.times.today()))
			.addObject("handled", this.details.handledToday().stream().map(this::done).toList());
	}

	private List<Line> lines(List<DayItem> items) {
		var people = this.details.people(items.stream().map(DayItem::patient).toList());
		var sessions = this.details.sessions(items.stream().map(DayItem::session).filter(Objects::nonNull).toList());
		Map<StaffId, String> names = this.staff.all()
			.stream()
			.collect(Collectors.toMap(StaffMember::id, StaffMember::name));
		// a patient that was erased a moment ago is nobody's to call
		return items.stream()
			.filter((item) -> people.containsKey(item.patient()))
			.map((item) -> line(item, people.get(item.patient()),
					(item.session() != null) ? sessions.get(item.session()) : null, names))
			.toList();
	}

	private Line line(DayItem item, Person person, @Nullable Treated treated, Map<StaffId, String> names) {
		return new Line(tone(item), say("kind." + item.kind().word()), text(item, treated), days(item), item.patient(),
				person.name(), person.recordNumber(), person.phone(), way(item, person), name(item, treated, names),
				actions(item));
	}

	private static @Nullable String name(DayItem item, @Nullable Treated treated, Map<StaffId, String> names) {
		var practitioner = (item.practitioner() != null) ? item.practitioner()
				: (treated != null) ? treated.by() : null;
		return (practitioner != null) ? names.get(practitioner) : null;
	}

	private static String tone(DayItem item) {
		return switch (item.kind()) {
			case UNSUPPORTED -> (item.detail() == Detail.ON_HOLD) ? "hold" : "caution";
			case CONTACT -> "wait";
			case BOOKING, OUTCOME -> "window";
			case OVERDUE, MISSED -> "overdue";
			case PRACTITIONER -> (item.detail() == Detail.ON_HOLD) ? "hold" : "review";
		};
	}

	private String text(DayItem item, @Nullable Treated treated) {
		var today = this.times.today();
		return switch (item.detail()) {
			case ON_HOLD -> say((item.kind() == DayKind.UNSUPPORTED) ? "text.booked-on-hold" : "text.on-hold");
			case TOO_EARLY, TOO_LATE -> say("text." + item.detail().word());
			case PLANNED, NOT_REACHED -> say("text." + item.detail().word(), (treated != null) ? treated.number() : 0,
					(treated != null) ? ChronoUnit.DAYS.between(treated.on(), today) : 0, item.attempts());
			case THREE_ATTEMPTS -> say("text.three_attempts", item.attempts());
			case AFTER_SERIES -> say("text.after_series", (treated != null) ? Written.day(treated.on()) : "");
			case DID_NOT_COME, NOT_NOTED -> say("text." + item.detail().word(),
					this.pages.say("appointment-purpose." + Objects.requireNonNull(item.purpose()).word()));
			case IN_WINDOW, BEFORE_WINDOW, WINDOW_PASSED, REVIEW_PLAN -> say("text." + item.detail().word());
		};
	}

	private String days(DayItem item) {
		return switch (item.kind()) {
			case UNSUPPORTED -> (item.first() != null && item.last() != null)
					? say("days.booked-window", this.times.full(Objects.requireNonNull(item.starts())),
							Written.weekday(item.first()), Written.weekday(item.last()))
					: say("days.booked", this.times.full(Objects.requireNonNull(item.starts())));
			case MISSED -> say("days.missed", this.times.full(Objects.requireNonNull(item.starts())));
			case BOOKING -> say("days.window", Written.weekday(Objects.requireNonNull(item.first())),
					Written.weekday(Objects.requireNonNull(item.target())),
					Written.weekday(Objects.requireNonNull(item.last())));
			case OVERDUE -> say("days.overdue", Written.weekday(item.due()));
			case CONTACT, PRACTITIONER, OUTCOME -> say("days.since", Written.weekday(item.due()));
		};
	}

	private @Nullable String way(DayItem item, Person person) {
		if (item.kind() == DayKind.PRACTITIONER) {
			return null;
		}
		if (person.reachedBy() != null) {
			return say("way.reached-by." + person.reachedBy());
		}
		return (person.phone() != null) ? null
				: (person.email() != null) ? say("way.email", person.email()) : say("way.none");
	}

	private List<Action> actions(DayItem item) {
		var actions = new ArrayList<Action>();
		var book = "/patients/" + item.patient() + "/appointments/new?purpose=";
		switch (item.kind()) {
			case UNSUPPORTED -> {
				var appointment = "/appointments/" + item.appointment();
				actions
					.add((item.detail() == Detail.ON_HOLD) ? new Action(say("do.cancel"), appointment + "/cancel", true)
							: new Action(say("do.move"), appointment + "/move", true));
				if (item.detail() == Detail.ON_HOLD) {
					actions.add(new Action(say("do.review"), book + "review", false));
				}
			}
			case CONTACT ->
				actions.add(new Action(say("do.contact"), "/sessions/" + item.session() + "/contacts/new", true));
			case BOOKING, OVERDUE -> actions.add(new Action(say("do.book"), book + "treatment", true));
			case MISSED -> {
				if (item.detail() == Detail.NOT_NOTED) {
					actions.add(new Action(say("do.note"), "/appointments/" + item.appointment(), true));
				}
				actions.add(new Action(say("do.rebook"), book + Objects.requireNonNull(item.purpose()).word(),
						item.detail() != Detail.NOT_NOTED));
			}
			case OUTCOME -> actions.add(new Action(say("do.book"), book + "outcome", true));
			case PRACTITIONER -> {
				if (this.booking.mayGiveClinicalReasons() && item.series() != null) {
					actions.add(new Action(say("do.decide"), "/series/" + item.series() + "#advice", true));
				}
				if (item.detail() != Detail.THREE_ATTEMPTS) {
					actions.add(new Action(say("do.review"), book + "review", false));
				}
			}
		}
		return actions;
	}

	private Done done(Handled handled) {
		var what = switch (handled.what()) {
			case "answer" -> "";
			case "contact" -> this.pages.say("contact-outcome." + handled.how());
			case "appointment" -> this.pages.say("appointment-status." + handled.how());
			default -> say("decision." + handled.how());
		};
		return new Done(this.times.time(handled.at()),
				(handled.by() != null) ? handled.by() : say("handled.by-patient"),
				say("handled." + handled.what(), what), handled.patient(), handled.name(), handled.recordNumber());
	}

	private String say(String key, Object... arguments) {
		return this.pages.say("appointment.today." + key, arguments);
	}

}
