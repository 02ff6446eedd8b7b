package org.seriatim.treatment.web;

import java.time.Clock;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.patient.PatientId;
import org.seriatim.screening.ScreenedItem;
import org.seriatim.screening.ScreenedItem.Open;
import org.seriatim.screening.Screening;
import org.seriatim.screening.ScreeningDecision;
import org.seriatim.screening.ScreeningItem;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/**
 * Says where the screening of a day stands, on the sheet and on the page of a session.
 */
@Component
class ScreeningWording {

	private final MessageSource messages;

	private final StaffDirectory staff;

	private final Clock clock;

	ScreeningWording(MessageSource messages, StaffDirectory staff, Clock clock) {
		this.messages = messages;
		this.staff = staff;
		this.clock = clock;
	}

	/**
	 * An item that keeps the session from being recorded.
	 *
	 * @param state what is still to be done
	 * @param address where that is done
	 */
	record OpenItem(String question, boolean stop, String state, String address) {
	}

	/** A decision, or an acknowledgement, of the day of a session. */
	record Decided(String question, String text) {
	}

	List<OpenItem> open(Screening screening, PatientId patient, Locale locale) {
		return screening.open().stream().map((item) -> open(item, patient, locale)).toList();
	}

	private OpenItem open(ScreenedItem item, PatientId patient, Locale locale) {
		return new OpenItem(item.item().question(), item.item().isStop(), state(item, locale),
				"/patients/" + patient + "/before#" + place(item));
	}

	private String state(ScreenedItem item, Locale locale) {
		var open = Objects.requireNonNull(item.open());
		var key = (open == Open.TO_DECIDE) ? (item.item().isStop() ? "to-decide" : "to-acknowledge")
				: open.name().toLowerCase(Locale.ROOT).replace('_', '-');
		return say("treatment.screening.open." + key, locale, answer(item, locale));
	}

	private String answer(ScreenedItem item, Locale locale) {
		var about = item.about();
		return (about != null) ? say("screening-answer." + about.word(), locale) : "";
	}

	private static String place(ScreenedItem item) {
		if (item.item().is(ScreeningItem.CONSENT_MISSING)) {
			return "consent";
		}
		return switch (Objects.requireNonNull(item.open())) {
			case TO_ASK -> "item-" + item.item().word();
			case TO_TAKE_OVER -> "take-over";
			case TO_DECIDE, NOT_TODAY -> "decision-" + item.item().word();
		};
	}

	/** The items with what is still to be done about each. */
	String list(List<ScreenedItem> items, Locale locale) {
		return String.join("; ", items.stream()
			.map((item) -> say("treatment.screening.open.one", locale, item.item().question(), state(item, locale)))
			.toList());
	}

	/** Items by what they ask. */
	List<String> questions(List<ScreenedItem> items) {
		return items.stream().map((item) -> item.item().question()).toList();
	}

	/** What was decided that day, by whom and when. */
	List<Decided> decided(Screening screening, Locale locale) {
		return screening.items()
			.stream()
			.filter((item) -> item.decision() != null)
			.map((item) -> new Decided(item.item().question(),
					decided(Objects.requireNonNull(item.decision()), locale)))
			.toList();
	}

	private String decided(ScreeningDecision decision, Locale locale) {
		var text = say("treatment.screening.decided", locale,
				say("screening-verdict." + decision.verdict().word(), locale),
				say("screening-answer." + decision.about().word(), locale),
				this.staff.byId(decision.decidedBy()).map(StaffMember::name).orElse("–"),
				Written.time(decision.decidedAt(), this.clock.getZone()));
		return (decision.reason() != null) ? text + ": " + decision.reason() : text;
	}

	private String say(String key, Locale locale, @Nullable Object... values) {
		return this.messages.getMessage(key, values, locale);
	}

}
