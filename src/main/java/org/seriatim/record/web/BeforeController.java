package org.seriatim.record.web;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;
import org.seriatim.record.web.ScreeningForms.AnswersForm;
import org.seriatim.record.web.ScreeningForms.DecisionRow;
import org.seriatim.record.web.ScreeningForms.DecisionsForm;
import org.seriatim.record.web.ScreeningForms.NumbingCorrectionForm;
import org.seriatim.record.web.ScreeningForms.NumbingForm;
import org.seriatim.record.web.ScreeningForms.NumbingPlanForm;
import org.seriatim.record.web.ScreeningForms.PlanForm;
import org.seriatim.record.web.ScreeningForms.RepeatForm;
import org.seriatim.record.web.ScreeningForms.TreatmentConsentForm;
import org.seriatim.record.web.ScreeningForms.TreatmentWithdrawalForm;
import org.seriatim.record.web.ScreeningForms.WeightForm;
import org.seriatim.screening.Answer;
import org.seriatim.screening.BodyWeight;
import org.seriatim.screening.ListedItem;
import org.seriatim.screening.ScreeningEntries;
import org.seriatim.screening.ScreeningEntries.Given;
import org.seriatim.screening.ScreeningEntries.Shown;
import org.seriatim.screening.ScreeningRefused;
import org.seriatim.screening.Verdict;
import org.seriatim.shell.Choice;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.StaleVersion;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.support.TransactionOperations;
import org.springframework.validation.BeanPropertyBindingResult;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Errors;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * The page before a session, and what is settled on it. Each form goes to its own
 * address; one that is refused comes back on the same page with what was typed.
 */
@Controller
class BeforeController {

	private static final String BEFORE = "/patients/{patient}/before";

	private static final String ANSWERS = "answersForm";

	private static final String REPEAT = "repeatForm";

	private static final String PLAN = "planForm";

	private static final String DECISIONS = "decisionsForm";

	private static final String WEIGHT = "weightForm";

	private static final String CONSENT = "consentForm";

	private static final String WITHDRAWAL = "withdrawalForm";

	private static final String NUMBING = "numbingForm";

	private static final String CORRECTION = "correctionForm";

	private static final String NUMBING_PLAN = "numbingPlanForm";

	private static final int EARLIEST_YEAR = 1900;

	private final BeforePages pages;

	private final ScreeningEntries entries;

	private final TransactionOperations transactions;

	private final Texts texts;

	private final Clock clock;

	BeforeController(BeforePages pages, ScreeningEntries entries, TransactionOperations transactions, Texts texts,
			Clock clock) {
		this.pages = pages;
		this.entries = entries;
		this.transactions = transactions;
		this.texts = texts;
		this.clock = clock;
	}

	/** What a form asks for, once it has been read. */
	@FunctionalInterface
	private interface Entry {

		void make();

	}

	/** The field that a rule concerns; none for the form as a whole. */
	@FunctionalInterface
	private interface Place {

		@Nullable String of(ScreeningRefused refused);

	}

	/** A form as it was sent. */
	private record Sent(String name, Object form, BindingResult errors) {
	}

	@GetMapping(BEFORE)
	ModelAndView show(@PathVariable PatientId patient) {
		return page(patient, HttpStatus.OK, null);
	}

	@PostMapping(BEFORE + "/answers")
	ModelAndView answer(@PathVariable PatientId patient, @Valid @ModelAttribute(ANSWERS) AnswersForm form,
			BindingResult errors, RedirectAttributes flash) {
		var given = form.answers()
			.stream()
			.filter((row) -> row.answer() != null && row.item() != null)
			.map((row) -> new Given(Objects.requireNonNull(row.item()), Objects.requireNonNull(row.answer()),
					row.note(), row.lastDoseOn(), row.version()))
			.toList();
		form.answers()
			.stream()
			.filter((row) -> row.answer() == null && (row.note() != null || row.lastDoseOn() != null)
					&& !errors.hasFieldErrors(path("answers", row.item(), "answer")))
			.forEach((row) -> errors.rejectValue(path("answers", row.item(), "answer"), "record.before.no-answer"));
		form.answers()
			.forEach((row) -> requireCentury(row.lastDoseOn(), path("answers", row.item(), "lastDoseOn"), errors));
		return settle(patient, new Sent(ANSWERS, form, errors),
				() -> this.entries.answer(patient, given, form.changeReason()), (refused) -> switch (refused.rule()) {
					case CHANGED_WITHOUT_REASON -> "changeReason";
					case DOSE_IN_THE_FUTURE, DOSE_NOT_SAID -> path("answers", item(refused), "lastDoseOn");
					case NOT_ASKED -> "changeReason";
					default -> null;
				}, "answers", "screening", flash);
	}

	private static String path(String rows, @Nullable String item, String field) {
		return rows + "[" + Math.max(0, ListedItem.place(item)) + "]." + field;
	}

	/** What the item that a rule is about is called in the records. */
	private static String item(ScreeningRefused refused) {
		var item = refused.evidence().get(0);
		return (item instanceof ListedItem listed) ? listed.word() : item.toString();
	}

	@PostMapping(BEFORE + "/as-last-time")
	ModelAndView asLastTime(@PathVariable PatientId patient, @Valid @ModelAttribute(REPEAT) RepeatForm form,
			BindingResult errors, RedirectAttributes flash) {
		return settle(patient, new Sent(REPEAT, form, errors), () -> this.entries.asLastTime(patient, form.entries()),
				(refused) -> null, "answers", "screening", flash);
	}

	@PostMapping(BEFORE + "/take-over")
	ModelAndView takeOver(@PathVariable PatientId patient, @Valid @ModelAttribute(REPEAT) RepeatForm form,
			BindingResult errors, RedirectAttributes flash) {
		return settle(patient, new Sent(REPEAT, form, errors), () -> this.entries.takeOver(patient, form.entries()),
				(refused) -> null, "taken-over", "screening", flash);
	}

	@PostMapping(BEFORE + "/plan")
	ModelAndView plan(@PathVariable PatientId patient, @Valid @ModelAttribute(PLAN) PlanForm form, BindingResult errors,
			RedirectAttributes flash) {
		return settle(patient, new Sent(PLAN, form, errors),
				() -> this.entries.plan(patient, form.radiofrequency(), form.prilocaine(), form.planVersion()),
				(refused) -> null, "plan", "screening", flash);
	}

	@PostMapping(BEFORE + "/decisions")
	ModelAndView decide(@PathVariable PatientId patient, @Valid @ModelAttribute(DECISIONS) DecisionsForm form,
			BindingResult errors, RedirectAttributes flash) {
		var made = form.decisions().stream().filter((row) -> row.verdict() != null && row.about() != null).toList();
		form.decisions()
			.stream()
			.filter((row) -> row.verdict() == null && row.reason() != null
					&& !errors.hasFieldErrors(path("decisions", row.item(), "verdict")))
			.forEach((row) -> errors.rejectValue(path("decisions", row.item(), "verdict"), "record.before.no-verdict"));
		return settle(patient, new Sent(DECISIONS, form, errors), () -> decide(patient, made), (refused) -> {
			var item = item(refused);
			return switch (refused.rule()) {
				case DECIDED_WITHOUT_REASON -> path("decisions", item, "reason");
				case VERDICT_OF_ANOTHER_LEVEL -> path("decisions", item, "verdict");
				default -> null;
			};
		}, "decisions", "decisions", flash);
	}

	private void decide(PatientId patient, List<DecisionRow> made) {
		var last = this.pages.lastTreatedOn(patient);
		made.forEach((row) -> this.entries.decide(patient, last, Objects.requireNonNull(row.item()),
				Objects.requireNonNull(row.about()), Objects.requireNonNull(row.verdict()), row.reason(),
				row.version()));
	}

	@PostMapping(BEFORE + "/weight")
	ModelAndView weigh(@PathVariable PatientId patient, @Valid @ModelAttribute(WEIGHT) WeightForm form,
			BindingResult errors, RedirectAttributes flash) {
		requireCentury(form.weighedOn(), "weighedOn", errors);
		return settle(patient, new Sent(WEIGHT, form, errors),
				() -> this.entries.weigh(patient, Objects.requireNonNull(form.weighedOn()),
						Objects.requireNonNull(DecimalText.value(form.weightKg())), form.weightVersion(),
						form.weightReason()),
				(refused) -> switch (refused.rule()) {
					case WEIGHED_IN_THE_FUTURE -> "weighedOn";
					case WEIGHT_WITHOUT_REASON -> "weightReason";
					default -> null;
				}, "weight", "weight", flash);
	}

	@PostMapping(BEFORE + "/consent")
	ModelAndView consent(@PathVariable PatientId patient, @Valid @ModelAttribute(CONSENT) TreatmentConsentForm form,
			BindingResult errors, RedirectAttributes flash) {
		requireCentury(form.consentGivenOn(), "consentGivenOn", errors);
		return settle(patient, new Sent(CONSENT, form, errors),
				() -> this.entries.giveConsent(patient, Objects.requireNonNull(form.consentGivenOn()),
						Objects.requireNonNull(form.documentReference())),
				(refused) -> "consentGivenOn", "consent", "consent", flash);
	}

	@PostMapping(BEFORE + "/consent/withdraw")
	ModelAndView withdraw(@PathVariable PatientId patient,
			@Valid @ModelAttribute(WITHDRAWAL) TreatmentWithdrawalForm form, BindingResult errors,
			RedirectAttributes flash) {
		var consent = shown(form.consent(), "consent", errors);
		return settle(patient, new Sent(WITHDRAWAL, form, errors),
				() -> this.entries.withdrawConsent(patient, Objects.requireNonNull(consent),
						Objects.requireNonNull(form.consentEndsOn()), Objects.requireNonNull(form.consentEndReason())),
				(refused) -> "consentEndsOn", "withdrawal", "consent", flash);
	}

	/** A day long before anybody lived is a slip. */
	private static void requireCentury(@Nullable LocalDate day, String field, Errors errors) {
		if (day != null && day.getYear() < EARLIEST_YEAR) {
			errors.rejectValue(field, "record.before.long-ago");
		}
	}

	/** The entry that a form names by id and version. */
	private static @Nullable Shown shown(@Nullable String token, String field, BindingResult errors) {
		var shown = ScreeningForms.entry(token);
		if (shown == null && !errors.hasFieldErrors(field)) {
			errors.rejectValue(field, "record.before.choose");
		}
		return shown;
	}

	@PostMapping(BEFORE + "/numbing/start")
	ModelAndView start(@PathVariable PatientId patient, @Valid @ModelAttribute(NUMBING) NumbingForm form,
			BindingResult errors, RedirectAttributes flash) {
		var start = time(form.numbingStart(), "numbingStart", errors);
		return settle(patient, new Sent(NUMBING, form, errors), () -> this.entries.startNumbing(patient, orNow(start)),
				(refused) -> "numbingStart", "numbing-started", "numbing", flash);
	}

	@PostMapping(BEFORE + "/numbing/stop")
	ModelAndView stop(@PathVariable PatientId patient, @Valid @ModelAttribute(NUMBING) NumbingForm form,
			BindingResult errors, RedirectAttributes flash) {
		var numbing = shown(form.numbing(), "numbing", errors);
		var stop = time(form.numbingStop(), "numbingStop", errors);
		return settle(patient, new Sent(NUMBING, form, errors),
				() -> this.entries.stopNumbing(patient, Objects.requireNonNull(numbing), orNow(stop)),
				(refused) -> "numbingStop", "numbing-stopped", "numbing", flash);
	}

	@PostMapping(BEFORE + "/numbing/correct")
	ModelAndView correct(@PathVariable PatientId patient, @Valid @ModelAttribute(CORRECTION) NumbingCorrectionForm form,
			BindingResult errors, RedirectAttributes flash) {
		var numbing = shown(form.corrected(), "corrected", errors);
		var start = time(form.correctedStart(), "correctedStart", errors);
		var stop = time(form.correctedStop(), "correctedStop", errors);
		return settle(patient, new Sent(CORRECTION, form, errors),
				() -> this.entries.correctNumbing(patient, Objects.requireNonNull(numbing),
						Objects.requireNonNull(start), stop, Objects.requireNonNull(form.correctedReason())),
				(refused) -> switch (refused.rule()) {
					case STOP_BEFORE_START, STOP_IN_THE_FUTURE, NUMBING_IS_ON -> "correctedStop";
					default -> "correctedStart";
				}, "numbing-corrected", "numbing", flash);
	}

	/** Hours and minutes; {@code null} where none are typed or they are wrong. */
	private static @Nullable LocalTime time(@Nullable String typed, String field, Errors errors) {
		if (typed == null) {
			return null;
		}
		try {
			return LocalTime.parse(typed);
		}
		catch (DateTimeParseException ex) {
			errors.rejectValue(field, "record.before.numbing.no-time");
			return null;
		}
	}

	/** That time of today; now where none was typed. */
	private Instant orNow(@Nullable LocalTime time) {
		return (time != null) ? LocalDate.now(this.clock).atTime(time).atZone(this.clock.getZone()).toInstant()
				: this.clock.instant();
	}

	@PostMapping(BEFORE + "/numbing/plan")
	ModelAndView planNumbing(@PathVariable PatientId patient, @Valid @ModelAttribute(NUMBING_PLAN) NumbingPlanForm form,
			BindingResult errors, RedirectAttributes flash) {
		return settle(patient, new Sent(NUMBING_PLAN, form, errors),
				() -> this.entries.planNumbing(patient,
						Objects.requireNonNull(DecimalText.whole(form.numbingMinutes())), form.numbingPlanVersion()),
				(refused) -> null, "numbing-plan", "numbing", flash);
	}

	/**
	 * Makes an entry, and shows the page again: after it, at its part; or with what is to
	 * be mended.
	 */
	private ModelAndView settle(PatientId patient, Sent sent, Entry entry, Place place, String notice, String part,
			RedirectAttributes flash) {
		if (!sent.errors().hasErrors()) {
			try {
				this.transactions.executeWithoutResult((status) -> entry.make());
				flash.addFlashAttribute("notice", "record.before.done." + notice);
				return new ModelAndView("redirect:/patients/" + patient + "/before#" + part);
			}
			catch (ScreeningRefused refused) {
				reject(refused, place.of(refused), sent.errors());
			}
			catch (NoSuchElementException ex) {
				sent.errors().reject("record.before.gone");
			}
			catch (StaleVersion ex) {
				return page(patient, HttpStatus.CONFLICT, sent).addObject("replaced", true);
			}
		}
		return page(patient, HttpStatus.UNPROCESSABLE_CONTENT, sent);
	}

	private void reject(ScreeningRefused refused, @Nullable String field, Errors errors) {
		var code = "record.before.rule." + refused.rule().name().toLowerCase(Locale.ROOT).replace('_', '-');
		var evidence = refused.evidence().stream().map(this::written).toArray();
		if (field != null) {
			errors.rejectValue(field, code, evidence, null);
		}
		else {
			errors.reject(code, evidence, null);
		}
	}

	private String written(Object evidence) {
		if (evidence instanceof ListedItem item) {
			return item.question();
		}
		return (evidence instanceof LocalDate day) ? Written.day(day) : evidence.toString();
	}

	private ModelAndView page(PatientId patient, HttpStatus status, @Nullable Sent sent) {
		var opened = this.pages.open(patient);
		var today = LocalDate.now(this.clock);
		var ofToday = opened.weights().stream().filter((weight) -> weight.weighedOn().equals(today)).findFirst();
		var plan = opened.numbingPlan();
		var page = new ModelAndView("record/before", status).addObject("page", opened.page())
			.addObject("today", today)
			.addObject("planVersion", opened.screening().plan().version())
			.addObject("weightVersion", ofToday.map(BodyWeight::version).orElse(null))
			.addObject("numbingPlanVersion", (plan != null) ? plan.version() : null)
			.addObject("verdicts",
					List.of(Verdict.MAY_TREAT, Verdict.NOT_TODAY)
						.stream()
						.map((verdict) -> new Choice(verdict.word(), "screening-verdict." + verdict.word()))
						.toList())
			.addObject("answers",
					List.of(Answer.NO, Answer.YES, Answer.UNKNOWN)
						.stream()
						.map((answer) -> new Choice(answer.word(), "screening-answer." + answer.word()))
						.toList());
		var forms = Map.of(ANSWERS, AnswersForm.of(opened.screening()), REPEAT, new RepeatForm(List.of()), PLAN,
				PlanForm.of(opened.screening().plan()), DECISIONS, new DecisionsForm(List.of()), WEIGHT,
				new WeightForm(ofToday.map(BodyWeight::weightKg).map(DecimalText::of).orElse(null), today,
						ofToday.map(BodyWeight::version).orElse(null), null),
				CONSENT, new TreatmentConsentForm(today, null), WITHDRAWAL,
				new TreatmentWithdrawalForm(null, today, null), NUMBING, new NumbingForm(null, null, null), CORRECTION,
				new NumbingCorrectionForm(null, null, null, null), NUMBING_PLAN,
				new NumbingPlanForm((plan != null) ? Integer.toString(plan.minutes()) : null,
						(plan != null) ? plan.version() : null));
		forms.forEach((name, form) -> {
			var typed = (sent != null && sent.name().equals(name)) ? sent : null;
			page.addObject(name, (typed != null) ? typed.form() : form);
			page.addObject(BindingResult.MODEL_KEY_PREFIX + name,
					(typed != null) ? typed.errors() : new BeanPropertyBindingResult(form, name));
		});
		return page;
	}

}
