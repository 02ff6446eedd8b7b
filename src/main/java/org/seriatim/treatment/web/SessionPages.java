package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.Corrections;
import org.seriatim.patient.Corrections.WrittenCorrection;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.screening.Screening;
import org.seriatim.screening.ScreeningRecords;
import org.seriatim.shell.Written;
import org.seriatim.treatment.Handling;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SideCheck;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.domain.ReviewSession;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;
import org.springframework.web.servlet.ModelAndView;

/** The page of a session on record. */
@Component
class SessionPages {

	private static final String UNKNOWN = "–";

	private final PatientDirectory patients;

	private final TreatmentHistory history;

	private final TrackedScars scars;

	private final StaffDirectory staff;

	private final ReviewSession review;

	private final ReviewWording wording;

	private final EarlierVersions earlierVersions;

	private final Corrections corrections;

	private final Protocols protocols;

	private final ScreeningRecords screening;

	private final ScreeningWording asked;

	private final Clock clock;

	private final MessageSource messages;

	SessionPages(PatientDirectory patients, TreatmentHistory history, TrackedScars scars, StaffDirectory staff,
			ReviewSession review, ReviewWording wording, EarlierVersions earlierVersions, Corrections corrections,
			Protocols protocols, ScreeningRecords screening, ScreeningWording asked, Clock clock,
			MessageSource messages) {
		this.screening = screening;
		this.asked = asked;
		this.patients = patients;
		this.history = history;
		this.scars = scars;
		this.staff = staff;
		this.review = review;
		this.wording = wording;
		this.earlierVersions = earlierVersions;
		this.corrections = corrections;
		this.protocols = protocols;
		this.clock = clock;
		this.messages = messages;
	}

	/** One fact about the whole session. */
	record Fact(String term, String value) {
	}

	/** One preparation, as recorded. */
	record PreparationLine(int number, String product, String lot, String expiresOn, String vialMg, String diluentMl,
			String stockDrawnMl, String addedDiluentMl, String lidocaine, String discardedMl, String handling) {
	}

	/** One injection, as recorded. */
	record InjectionLine(int number, String preparation, String region, String target, String scar, String layer,
			String points, String volumeMl, String needle, String seen, String pain) {
	}

	/** The page, whose opening is in the audit log. */
	ModelAndView page(RecordedSession session, boolean mayCorrect, Locale locale) {
		var patient = this.patients.open(session.patient());
		var labels = this.scars.of(session.patient())
			.stream()
			.collect(Collectors.toMap(TrackedScar::id, Function.identity()));
		return new ModelAndView("treatment/session").addObject("patient", patient)
			.addObject("series", this.history.series(session.series()).orElseThrow())
			.addObject("recorded", session)
			.addObject("treatedOn", Written.day(session.treatedOn()))
			.addObject("contacts", contacts(session))
			.addObject("mayCorrect", mayCorrect)
			.addObject("facts", facts(session, locale))
			.addObject("decided", this.asked.decided(screeningOf(session), locale))
			.addObject("preparations", session.preparations().stream().map((one) -> line(one, locale)).toList())
			.addObject("injections", injections(session, labels, locale))
			.addObject("review", this.wording.page(this.review.of(session), this.review.unusualIn(session), locale))
			.addObject("corrections", corrections(session, labels, locale));
	}

	/**
	 * The days on which the patient is asked, by the protocol that governs the series.
	 */
	private List<String> contacts(RecordedSession session) {
		return this.history.series(session.series())
			.flatMap((series) -> this.protocols.byNumber(series.protocol()))
			.stream()
			.flatMap((protocol) -> protocol.contactDays().stream())
			.map((after) -> Written.weekday(session.treatedOn().plusDays(after)))
			.toList();
	}

	private List<Fact> facts(RecordedSession session, Locale locale) {
		var facts = new ArrayList<Fact>();
		facts.add(fact("practitioner", this.staff.byId(session.practitioner()).map(StaffMember::name).orElse(UNKNOWN),
				locale));
		facts.add(fact("screening", screening(session, locale), locale));
		facts.add(fact("weightKg", with(session.weightKg(), "kg"), locale));
		facts.add(fact("combination",
				(session.combination() != null) ? word("combination", session.combination(), locale) : UNKNOWN,
				locale));
		facts.add(fact("rfDepthMm", with(session.rfDepthMm(), "mm"), locale));
		facts.add(fact("topicalMinutes", with(session.topicalMinutes(), "min"), locale));
		facts.add(fact("topicalGrams", with(session.aftercare().topicalGrams(), "g"), locale));
		facts.add(fact("topicalAreaCm2", with(session.aftercare().topicalAreaCm2(), "cm²"), locale));
		facts.add(fact("oralAnalgesic", yesNo(session.oralAnalgesic(), locale), locale));
		facts.add(fact("vibration", yesNo(session.vibration(), locale), locale));
		facts.add(fact("painNrs", (session.painNrs() != null) ? session.painNrs() + " / 10" : UNKNOWN, locale));
		facts.add(fact("massage", yesNo(session.massage(), locale), locale));
		var after = session.aftercare();
		facts.add(new Fact(say("side.right", locale), side(after.right(), locale)));
		facts.add(new Fact(say("side.middle", locale), side(after.middle(), locale)));
		facts.add(new Fact(say("side.left", locale), side(after.left(), locale)));
		facts.add(fact("instructionsGiven", yesNo(after.instructionsGiven(), locale), locale));
		facts.add(fact("instructions", plain(after.instructions()), locale));
		return facts;
	}

	/** Where the screening stood on the day of the session. */
	private String screening(RecordedSession session, Locale locale) {
		var screening = screeningOf(session);
		if (!screening.isRecordedThatDay()) {
			return say("treatment.screening.not-recorded", locale);
		}
		var stopping = screening.stopping().size();
		var cautions = screening.openCautions().size();
		return this.messages.getMessage("treatment.screening.state", new Object[] { stopping, cautions }, locale);
	}

	private Screening screeningOf(RecordedSession session) {
		var before = RecordedSession.lastBefore(this.history.sessionsOf(session.patient()), session.treatedOn());
		return this.screening.of(session.patient(), session.treatedOn(), before, session.usesRadiofrequency(),
				session.topical().wasUsed());
	}

	private String side(SideCheck check, Locale locale) {
		var seen = new ArrayList<String>();
		add(seen, "even", check.even(), locale);
		add(seen, "lumpFelt", check.lumpFelt(), locale);
		add(seen, "compressed", check.compressed(), locale);
		add(seen, "massaged", check.massaged(), locale);
		add(seen, "ointment", check.ointment(), locale);
		return seen.isEmpty() ? UNKNOWN : String.join(", ", seen);
	}

	private Fact fact(String field, String value, Locale locale) {
		return new Fact(say("field." + field, locale), value);
	}

	private PreparationLine line(RecordedPreparation preparation, Locale locale) {
		var lidocaine = Stream.of(with(preparation.lidocaineMl(), "mL"), with(preparation.lidocainePercent(), "%"))
			.collect(Collectors.joining(", "));
		return new PreparationLine(preparation.number(), preparation.product(),
				Optional.ofNullable(preparation.lot()).orElse(UNKNOWN),
				Optional.ofNullable(preparation.expiresOn()).map(Written::day).orElse(UNKNOWN),
				plain(preparation.vialMg()), plain(preparation.diluentMl()), plain(preparation.stockDrawnMl()),
				plain(preparation.addedDiluentMl()), lidocaine, plain(preparation.discardedMl()),
				handling(preparation.handling(), locale));
	}

	/** What is known of how a vial was handled, as one text. */
	private String handling(Handling handling, Locale locale) {
		var known = new ArrayList<String>();
		addIfKnown(known, "hyaluronicMg", with(handling.hyaluronicMg(), "mg"), locale);
		addIfKnown(known, "reconstitutedAt", time(handling.reconstitutedAt()), locale);
		addIfKnown(known, "firstUsedAt", time(handling.firstUsedAt()), locale);
		addIfKnown(known, "syringes", plain(handling.syringes()), locale);
		addIfKnown(known, "vialFate",
				(handling.vialFate() != null) ? word("vial-fate", handling.vialFate(), locale) : UNKNOWN, locale);
		addIfKnown(known, "discardReason",
				(handling.discardReason() != null) ? word("discard-reason", handling.discardReason(), locale) : UNKNOWN,
				locale);
		addIfKnown(known, "expiredReason", plain(handling.expiredReason()), locale);
		addIfKnown(known, "balanceReason", plain(handling.balanceReason()), locale);
		return String.join("; ", known);
	}

	private void addIfKnown(List<String> known, String field, String value, Locale locale) {
		if (!value.equals(UNKNOWN)) {
			known.add(this.messages.getMessage("treatment.session.handling",
					new Object[] { say("field.preparations." + field, locale), value }, locale));
		}
	}

	private String time(@Nullable Instant time) {
		return (time != null) ? Written.time(time, this.clock.getZone()) : UNKNOWN;
	}

	private List<InjectionLine> injections(RecordedSession session, Map<ScarId, TrackedScar> labels, Locale locale) {
		var numbers = session.preparations()
			.stream()
			.collect(Collectors.toMap(RecordedPreparation::id, RecordedPreparation::number));
		return session.injections().stream().map((injection) -> line(injection, numbers, labels, locale)).toList();
	}

	private InjectionLine line(RecordedInjection injection, Map<PreparationId, Integer> numbers,
			Map<ScarId, TrackedScar> labels, Locale locale) {
		var source = (injection.preparation() != null) ? String.valueOf(numbers.get(injection.preparation())) : UNKNOWN;
		var scar = (injection.scar() != null) ? labels.get(injection.scar()) : null;
		var pattern = injection.pattern();
		var needle = Stream
			.of(with(injection.needleGauge(), "G"), with(injection.needleMm(), "mm"), with(pattern.angleDegrees(), "°"))
			.filter((one) -> !one.equals(UNKNOWN))
			.collect(Collectors.joining(", "));
		var points = (pattern.pointMl() != null)
				? this.messages.getMessage("treatment.session.points-of",
						new Object[] { plain(injection.points()), plain(pattern.pointMl()) }, locale)
				: plain(injection.points());
		return new InjectionLine(injection.number(), source, word("region", injection.region(), locale),
				word("target", injection.target(), locale), (scar != null) ? scar.label() : UNKNOWN,
				(injection.layer() != null) ? word("layer", injection.layer(), locale) : UNKNOWN, points,
				plain(injection.volumeMl()), needle.isEmpty() ? UNKNOWN : needle, seen(injection.endpoints(), locale),
				plain(injection.painNrs()));
	}

	/**
	 * What was seen, and what was looked for and not seen; what is unknown is left out.
	 */
	private String seen(RecordedInjection.Endpoints endpoints, Locale locale) {
		var seen = new ArrayList<String>();
		add(seen, "blanching", endpoints.blanching(), locale);
		add(seen, "bleeding", endpoints.bleeding(), locale);
		add(seen, "baseLifted", endpoints.baseLifted(), locale);
		add(seen, "lumpRaised", endpoints.lumpRaised(), locale);
		add(seen, "secondDirection", endpoints.secondDirection(), locale);
		return seen.isEmpty() ? UNKNOWN : String.join(", ", seen);
	}

	private void add(List<String> seen, String field, @Nullable Boolean value, Locale locale) {
		if (value != null) {
			seen.add(say((value ? "treatment.seen." : "treatment.not-seen.") + field, locale));
		}
	}

	private List<WrittenCorrection> corrections(RecordedSession session, Map<ScarId, TrackedScar> labels,
			Locale locale) {
		var ids = new HashMap<String, String>();
		labels.forEach((id, scar) -> ids.put(id.toString(), scar.label()));
		session.preparations()
			.forEach((preparation) -> ids.put(preparation.id().toString(), String.valueOf(preparation.number())));
		var made = this.earlierVersions.of("session", session.id().value(),
				Map.of("preparation", "session_id", "injection", "session_id"));
		// a preparation that was taken out has its number in its own last version
		made.stream()
			.flatMap((correction) -> correction.changes().stream())
			.filter((change) -> change.table().equals("preparation") && change.number() != null)
			.forEach((change) -> ids.putIfAbsent(change.entry().toString(), change.number()));
		return this.corrections.written(made,
				Map.of("combination", "combination", "region", "region", "target", "target", "layer", "layer",
						"vial_fate", "vial-fate", "discard_reason", "discard-reason"),
				(column, value) -> ids.get(value), locale);
	}

	private String word(String vocabulary, Enum<?> constant, Locale locale) {
		return say(vocabulary + "." + constant.name().toLowerCase(Locale.ROOT), locale);
	}

	private String yesNo(@Nullable Boolean value, Locale locale) {
		return (value != null) ? say(value ? "shell.yes" : "shell.no", locale) : UNKNOWN;
	}

	private static String plain(@Nullable Object value) {
		return (value instanceof BigDecimal number) ? number.toPlainString()
				: (value != null) ? value.toString() : UNKNOWN;
	}

	private static String with(@Nullable Object value, String unit) {
		return (value != null) ? plain(value) + " " + unit : UNKNOWN;
	}

	private String say(String key, Locale locale) {
		return this.messages.getMessage(key, null, locale);
	}

}
