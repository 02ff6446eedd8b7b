package org.seriatim.treatment.web;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.screening.BodyWeight;
import org.seriatim.screening.ScreenedItem;
import org.seriatim.screening.Screening;
import org.seriatim.screening.ScreeningRecords;
import org.seriatim.shell.Choice;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.Written;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.DiscardReason;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.VialFate;
import org.seriatim.treatment.domain.CatalogueLot;
import org.seriatim.treatment.domain.CatalogueProduct;
import org.seriatim.treatment.domain.ProductCatalogue;
import org.seriatim.treatment.domain.ReviewSession;
import org.seriatim.treatment.domain.SessionDraft;
import org.seriatim.treatment.domain.SessionFault;
import org.seriatim.treatment.domain.SessionRefused;
import org.seriatim.treatment.domain.SessionRule;
import org.seriatim.treatment.domain.UsualPractice;
import org.seriatim.treatment.domain.UsualPractices;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Errors;
import org.springframework.validation.Validator;
import org.springframework.web.servlet.ModelAndView;

/**
 * The form of a session, which a new session, a draft and a correction share: what it
 * offers, how its rows come and go, and what it must say.
 */
@Component
class SessionSheet {

	private static final String VIEW = "treatment/session-form";

	private static final DateTimeFormatter SAVED_AT = DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ENGLISH);

	/** More rows than any sitting has; each costs the page a line of controls. */
	private static final int ROWS_AT_MOST = 200;

	private final PatientDirectory patients;

	private final TrackedScars scars;

	private final StaffDirectory directory;

	private final CurrentStaff staff;

	private final ReviewSession review;

	private final ReviewWording wording;

	private final Protocols protocols;

	private final ProductCatalogue catalogue;

	private final UsualPractices practices;

	private final UsualWording usual;

	private final Validator validator;

	private final ScreeningRecords screening;

	private final ScreeningWording asked;

	private final TreatmentHistory history;

	private final MessageSource messages;

	private final Clock clock;

	SessionSheet(PatientDirectory patients, TrackedScars scars, StaffDirectory directory, CurrentStaff staff,
			ReviewSession review, ReviewWording wording, Protocols protocols, ProductCatalogue catalogue,
			UsualPractices practices, UsualWording usual, ScreeningRecords screening, ScreeningWording asked,
			TreatmentHistory history, Validator mvcValidator, MessageSource messages, Clock clock) {
		this.screening = screening;
		this.asked = asked;
		this.history = history;
		this.validator = mvcValidator;
		this.practices = practices;
		this.usual = usual;
		this.protocols = protocols;
		this.catalogue = catalogue;
		this.patients = patients;
		this.scars = scars;
		this.directory = directory;
		this.staff = staff;
		this.review = review;
		this.wording = wording;
		this.messages = messages;
		this.clock = clock;
	}

	/** What the form is used for. */
	enum Use {

		NEW, DRAFT, CORRECTION;

		/** The word in message keys. */
		public String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/**
	 * One sheet.
	 *
	 * @param action address that it is sent to
	 * @param corrected the session that it corrects
	 */
	record Sheet(Use use, String action, SeriesSummary series, @Nullable RecordedSession corrected) {
	}

	/** Whether who is signed in may record; an assistant writes drafts only. */
	boolean mayRecord() {
		return this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD);
	}

	/** The practitioner that a new form proposes: who is signed in, if they treat. */
	@Nullable StaffId proposedPractitioner() {
		return this.staff.has(Role.PRACTITIONER) ? this.staff.id().orElse(null) : null;
	}

	/** The form of a session that starts now, with what was taken down before it. */
	SessionForm started(SeriesSummary series, int number) {
		var today = today();
		var weight = this.screening.weightsOf(series.patient())
			.stream()
			.filter((taken) -> taken.weighedOn().equals(today))
			.map(BodyWeight::weightKg)
			.findFirst()
			.orElse(null);
		return SessionForm.of(number, today, proposedPractitioner(), weight,
				this.screening.numbingMinutes(series.patient(), today).orElse(null));
	}

	/** The form of a session of an earlier day. */
	SessionForm fromPaper(int number) {
		return SessionForm.of(number, null, null, null, null);
	}

	/** The screening of today as it stands, with what is planned. */
	Screening screening(SeriesSummary series) {
		return this.screening.of(series.patient(), today(), lastBeforeToday(series));
	}

	/** What a session of today is known to use counts, whatever was planned. */
	private Screening screening(SeriesSummary series, RecordedSession soFar) {
		return this.screening.of(series.patient(), today(), lastBeforeToday(series), soFar.usesRadiofrequency(),
				soFar.topical().wasUsed());
	}

	private @Nullable LocalDate lastBeforeToday(SeriesSummary series) {
		return RecordedSession.lastBefore(this.history.sessionsOf(series.patient()), today());
	}

	/** The page that says why a session of today cannot be started. */
	ModelAndView notCleared(SeriesSummary series, Screening screening, Locale locale) {
		return new ModelAndView("treatment/not-cleared").addObject("patient", this.patients.open(series.patient()))
			.addObject("series", series)
			.addObject("stopping", this.asked.questions(screening.stopping()));
	}

	ZoneId zone() {
		return this.clock.getZone();
	}

	LocalDate today() {
		return LocalDate.now(this.clock);
	}

	/**
	 * The form after one of its buttons: {@code preparation} and {@code injection} add a
	 * row, with a minus sign and a number they take one out; {@code fill} with the number
	 * of a preparation and a lot copies what the catalogue says of it; anything else
	 * leaves it.
	 */
	private SessionForm changed(SessionForm form, String change) {
		if (form.preparations().size() + form.injections().size() >= ROWS_AT_MOST && !change.startsWith("-")) {
			return form;
		}
		var words = change.split(" ", 2);
		return switch (words[0]) {
			case "preparation" -> form.withPreparation();
			case "injection" -> form.withInjection();
			case "-preparation" -> form.withoutPreparation(number(words));
			case "-injection" -> form.withoutInjection(number(words));
			case "fill" -> filled(form, words);
			default -> form;
		};
	}

	/** Without a script a lot is chosen by a button that names the preparation and it. */
	private SessionForm filled(SessionForm form, String[] words) {
		var said = (words.length > 1) ? words[1].split(" ", 2) : words;
		var number = Typed.whole(said[0]);
		if (number == null || said.length < 2) {
			return form;
		}
		for (var product : this.catalogue.all()) {
			for (var lot : product.lots()) {
				if (lot.id().toString().equals(said[1])) {
					return form.withLot(number, product, lot);
				}
			}
		}
		return form;
	}

	private static int number(String[] words) {
		var number = (words.length > 1) ? Typed.whole(words[1]) : null;
		return (number != null) ? number : 0;
	}

	/**
	 * What is wrong with a form, tied to the form itself. A value that could not be read
	 * leaves the binding's own result without its form, and the rows with it.
	 */
	BindingResult errors(SessionForm form, @Nullable BindingResult bound) {
		if (bound != null && bound.getTarget() == form) {
			return bound;
		}
		var errors = new BeanPropertyBindingResult(form, "form");
		if (bound != null) {
			errors.addAllErrors(bound);
		}
		return errors;
	}

	/**
	 * Answers one of the buttons that change the form: with the part of the page that
	 * they change where htmx asks, else with the whole page.
	 */
	ModelAndView changed(Sheet sheet, SessionForm form, BindingResult bound, String change, boolean partial,
			Locale locale) {
		var changed = changed(form, change);
		// what could not be read stays as it was typed, but not in a row that moved
		var errors = change.startsWith("-") ? errors(changed, null)
				: change.startsWith("fill ") ? unreadable(changed, bound) : errors(changed, bound);
		if (!partial) {
			return page(sheet, changed, errors, HttpStatus.OK, locale).addObject("added", change);
		}
		var page = new ModelAndView(VIEW + (change.equals("check") ? " :: checks" : " :: parts"));
		fill(page, sheet, changed, errors, locale);
		return page.addObject("added", change);
	}

	/** What could not be read, but for what the catalogue has filled in since. */
	private static BindingResult unreadable(SessionForm form, BindingResult bound) {
		var errors = new BeanPropertyBindingResult(form, "form");
		bound.getFieldErrors()
			.stream()
			.filter((error) -> !error.getField().matches("preparations\\[\\d+]\\.expiresOn"))
			.forEach(errors::addError);
		return errors;
	}

	/**
	 * Answers what a page saved by itself: the version and the time of the draft, and
	 * what it adds up to.
	 */
	ModelAndView saved(Sheet sheet, SessionForm form, SessionDraft saved, BindingResult bound, Locale locale) {
		var page = new ModelAndView(VIEW + " :: saved");
		var shown = form.withVersion(saved.version());
		fill(page, sheet, shown, errors(shown, bound), locale);
		return page.addObject("savedDraft", saved.id())
			.addObject("savedAt", SAVED_AT.format(saved.writtenAt().atZone(zone())));
	}

	/** The whole page, whose opening is in the audit log. */
	ModelAndView page(Sheet sheet, SessionForm form, BindingResult errors, HttpStatus status, Locale locale) {
		var page = new ModelAndView(VIEW, status);
		fill(page, sheet, form, errors, locale);
		// what came back to be mended, or over a sign-in, is saved nowhere yet
		page.addObject("unsaved", status != HttpStatus.OK);
		return page.addObject("patient", this.patients.open(sheet.series().patient()));
	}

	private void fill(ModelAndView page, Sheet sheet, SessionForm form, BindingResult errors, Locale locale) {
		var soFar = form.soFar(setting(sheet), zone());
		var practice = this.practices.current();
		// an earlier day comes from paper
		var screening = isAtTheChair(sheet, form) ? screening(sheet.series(), soFar) : null;
		page.addObject("form", form)
			.addObject(BindingResult.MODEL_KEY_PREFIX + "form", errors)
			.addObject("sheet", sheet)
			.addObject("mayRecord", mayRecord())
			.addObject("today", today())
			.addObject("practitioners", practitioners(form))
			.addObject("combinations", Choice.ofWords("combination", Combination.values()))
			.addObject("regions", Choice.ofWords("region", Region.values()))
			.addObject("targets", Choice.ofWords("target", Target.values()))
			.addObject("layers", Choice.ofWords("layer", Layer.values()))
			.addObject("scars", scars(sheet.series(), locale))
			.addObject("sources", sources(form))
			.addObject("vialFates", Choice.ofWords("vial-fate", VialFate.values()))
			.addObject("discardReasons", Choice.ofWords("discard-reason", DiscardReason.values()))
			.addObject("lots", lots(locale))
			.addObject("chair", chair(sheet, practice, locale))
			.addObject("usual", this.usual.beside(practice, locale))
			.addObject("contacts", contacts(sheet, form, locale))
			.addObject("page", UUID.randomUUID())
			.addObject("stopping", (screening != null) ? this.asked.questions(screening.stopping()) : List.of())
			.addObject("notCleared",
					(screening != null) ? this.asked.open(screening, sheet.series().patient(), locale) : List.of())
			.addObject("clock", clock(sheet, locale))
			.addObject("review", this.wording.page(this.review.of(soFar), this.review.unusualIn(soFar), locale));
	}

	/**
	 * A lot that a preparation can be filled from.
	 *
	 * @param id of the lot
	 * @param offer what the choice says
	 */
	record LotOffer(UUID id, String lot, String offer, String product, LocalDate expiresOn, String vialMg,
			String hyaluronicMg) {
	}

	private List<LotOffer> lots(Locale locale) {
		return this.catalogue.all()
			.stream()
			.filter(CatalogueProduct::inUse)
			.flatMap((product) -> product.lots()
				.stream()
				.filter(CatalogueLot::inUse)
				.map((lot) -> offer(product, lot, locale)))
			.toList();
	}

	private LotOffer offer(CatalogueProduct product, CatalogueLot lot, Locale locale) {
		var code = lot.hasExpiredOn(today()) ? "treatment.catalogue.offer.expired" : "treatment.catalogue.offer";
		return new LotOffer(lot.id(), lot.lot(),
				this.messages.getMessage(code,
						new Object[] { product.substance(), lot.lot(), Written.day(lot.expiresOn()) }, locale),
				product.substance(), lot.expiresOn(), Objects.requireNonNullElse(DecimalText.of(product.vialMg()), ""),
				Objects.requireNonNullElse(DecimalText.of(product.hyaluronicMg()), ""));
	}

	/** On which days the patient is asked, by the protocol that governs the series. */
	private String contacts(Sheet sheet, SessionForm form, Locale locale) {
		var day = Objects.requireNonNullElse(form.treatedOn(), today());
		var days = this.protocols.byNumber(sheet.series().protocol())
			.orElseGet(this.protocols::current)
			.contactDays()
			.stream()
			.map((after) -> Written.weekday(day.plusDays(after)))
			.collect(Collectors.joining(", "));
		return this.messages.getMessage("treatment.session.contacts", new Object[] { days }, locale);
	}

	private boolean isAtTheChair(Sheet sheet, SessionForm form) {
		return sheet.use() != Use.CORRECTION && today().equals(form.treatedOn());
	}

	/** What the clock of the cream says of today. */
	private @Nullable String clock(Sheet sheet, Locale locale) {
		return (sheet.use() == Use.CORRECTION) ? null : this.screening.numbingMinutes(sheet.series().patient(), today())
			.map((minutes) -> this.messages.getMessage("treatment.session.clock", new Object[] { minutes }, locale))
			.orElse(null);
	}

	/** The plan of the face: the places that an injection can go into. */
	private ChairPlan chair(Sheet sheet, UsualPractice practice, Locale locale) {
		return ChairPlan.of(this.scars.of(sheet.series().patient()), practice,
				(region) -> this.messages.getMessage("region." + region.word(), null, locale));
	}

	private RecordedSession setting(Sheet sheet) {
		return (sheet.corrected() != null) ? sheet.corrected()
				: new RecordedSession(SessionId.next(), sheet.series().patient(), sheet.series().id(), 0, today(),
						new StaffId(new UUID(0, 0)), null, null, null, null, null, null, null, null, List.of(),
						List.of());
	}

	private List<Choice> practitioners(SessionForm form) {
		var treating = new LinkedHashMap<StaffId, String>();
		for (var role : List.of(Role.PRACTITIONER, Role.CLINIC_LEAD)) {
			this.directory.holding(role).forEach((member) -> treating.putIfAbsent(member.id(), member.name()));
		}
		// whoever is on record stays choosable, also without an account
		if (form.practitioner() != null && !treating.containsKey(form.practitioner())) {
			this.directory.byId(form.practitioner())
				.map(StaffMember::name)
				.ifPresent((name) -> treating.put(form.practitioner(), name));
		}
		var choices = new ArrayList<Choice>();
		treating.forEach((id, name) -> choices.add(new Choice(id.toString(), name)));
		return choices;
	}

	private List<Choice> scars(SeriesSummary series, Locale locale) {
		return this.scars.of(series.patient()).stream().map((scar) -> choice(scar, locale)).toList();
	}

	private Choice choice(TrackedScar scar, Locale locale) {
		var region = this.messages.getMessage("region." + scar.region().word(), null, locale);
		return new Choice(scar.id().toString(), scar.label() + " · " + region);
	}

	private static List<Choice> sources(SessionForm form) {
		return form.preparations()
			.stream()
			.map((row) -> new Choice(String.valueOf(row.number()),
					(row.product() != null) ? row.number() + " · " + row.product() : String.valueOf(row.number())))
			.toList();
	}

	/** What a form must say before the domain can look at it. */
	void check(SessionForm form, Sheet sheet, BindingResult errors) {
		if (errors.hasErrors()) {
			checkTheRest(form, errors);
		}
		if (form.practitioner() != null && practitioners(form).stream()
			.noneMatch((choice) -> choice.value().equals(form.practitioner().toString()))) {
			errors.rejectValue("practitioner", "treatment.session.practitioner.unknown");
		}
		for (var i = 0; i < form.preparations().size(); i++) {
			var row = form.preparations().get(i);
			if (!row.isBlank() && row.product() == null) {
				errors.rejectValue("preparations[" + i + "].product", "treatment.session.product.missing");
			}
			if (!LotForm.canBeExpiry(row.expiresOn())) {
				errors.rejectValue("preparations[" + i + "].expiresOn", "treatment.session.expiry.implausible");
			}
		}
		for (var i = 0; i < form.injections().size(); i++) {
			var row = form.injections().get(i);
			if (!row.isBlank() && row.region() == null) {
				reject(errors, "injections[" + i + "].region", "treatment.session.region.missing");
			}
			if (!row.isBlank() && row.target() == null) {
				reject(errors, "injections[" + i + "].target", "treatment.session.target.missing");
			}
		}
		if (form.lacksConfirmation()) {
			errors.rejectValue("vesselsSeen", "treatment.session.vessels.missing");
		}
		if (sheet.use() == Use.CORRECTION && form.reason() == null) {
			errors.rejectValue("reason", "treatment.correction.reason.missing");
		}
	}

	/*
	 * A value that cannot be read keeps the framework from looking at the others;
	 * everything that is to be mended is told at once.
	 */
	private void checkTheRest(SessionForm form, BindingResult errors) {
		var others = new BeanPropertyBindingResult(form, "form");
		this.validator.validate(form, others);
		others.getFieldErrors()
			.stream()
			.filter((error) -> !errors.hasFieldErrors(error.getField()))
			.forEach(errors::addError);
	}

	/** Unless something is wrong with the field already: then nothing is missing. */
	private static void reject(Errors errors, String field, String code) {
		if (!errors.hasFieldErrors(field)) {
			errors.rejectValue(field, code);
		}
	}

	/** Puts each rule that is broken beside the field that can mend it. */
	void reject(SessionRefused refused, SessionForm form, Errors errors) {
		for (var fault : refused.faults()) {
			var code = "treatment.session.rule." + fault.rule().name().toLowerCase(Locale.ROOT).replace('_', '-');
			var evidence = evidence(fault);
			var field = field(fault, form);
			if (field != null) {
				errors.rejectValue(field, code, evidence, null);
			}
			else {
				errors.reject(code, evidence, null);
			}
		}
	}

	private Object[] evidence(SessionFault fault) {
		if (fault.rule() == SessionRule.SCREENING_NOT_CLEARED || fault.rule() == SessionRule.CAUTION_NOT_CLEARED) {
			var items = fault.evidence().stream().map(ScreenedItem.class::cast).toList();
			return new Object[] { this.asked.list(items, LocaleContextHolder.getLocale()) };
		}
		return fault.evidence().stream().map(SessionSheet::written).toArray();
	}

	private static Object written(Object evidence) {
		return (evidence instanceof LocalDate day) ? Written.day(day) : evidence.toString();
	}

	private static @Nullable String field(SessionFault fault, SessionForm form) {
		return switch (fault.rule()) {
			case SERIES_ENDED -> null;
			case SCREENING_NOT_CLEARED, CAUTION_NOT_CLEARED -> "screening";
			case NUMBER_TAKEN -> "number";
			case AFTER_END_OF_SERIES, IN_THE_FUTURE, BEFORE_EARLIER_NUMBER, AFTER_LATER_NUMBER -> "treatedOn";
			case DEPTH_WITHOUT_RADIOFREQUENCY -> "rfDepthMm";
			case STOCK_EXCEEDS_DILUENT -> ofPreparation(fault, form, "stockDrawnMl");
			case LIDOCAINE_WITHOUT_STRENGTH -> ofPreparation(fault, form, "lidocainePercent");
			case EXPIRED_WITHOUT_REASON -> ofPreparation(fault, form, "expiredReason");
			case VOLUME_UNEXPLAINED -> ofPreparation(fault, form, "balanceReason");
			case USED_BEFORE_RECONSTITUTION -> ofPreparation(fault, form, "firstUsedAt");
			case TIME_FAR_FROM_THE_DAY -> ofPreparation(fault, form, "reconstitutedAt");
			case VIAL_FATE_CONTRADICTS -> ofPreparation(fault, form, "vialFate");
			case UNKNOWN_PREPARATION -> ofInjection(fault, form, "preparation");
			case SCAR_OF_ANOTHER_PATIENT, SCAR_FOR_PORES -> ofInjection(fault, form, "scar");
		};
	}

	private static String ofPreparation(SessionFault fault, SessionForm form, String field) {
		return "preparations[" + form.indexOfPreparation(fault.part()) + "]." + field;
	}

	private static String ofInjection(SessionFault fault, SessionForm form, String field) {
		return "injections[" + form.indexOfInjection(fault.part()) + "]." + field;
	}

}
