package org.seriatim.treatment.web;

import java.time.Clock;
import java.util.List;
import java.util.Objects;
import java.util.function.Function;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.shell.Written;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.domain.NothingNew;
import org.seriatim.treatment.domain.PublishProtocol;
import org.seriatim.treatment.domain.PublishedProtocols;
import org.seriatim.treatment.domain.PublishedVersion;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Setup: the clinic's own numbers, their history, and the next version of them. */
@Controller
@ConditionalOnWebApplication
class ProtocolController {

	/**
	 * At least four weeks between sessions: consensus, Vleggaar D et al., J Drugs
	 * Dermatol 2014;13(4 Suppl):s44.
	 */
	private static final int CONSENSUS_LEAST_DAYS = 28;

	/** What a version says, in the order of the page: message key and value. */
	private static final List<Number> NUMBERS = List.of(new Number("base-days", ProtocolVersion::baseDays, true),
			new Number("window-days", ProtocolVersion::windowDays, true),
			new Number("extended-days", ProtocolVersion::extendedDays, true),
			new Number("persistence-threshold-days", ProtocolVersion::persistenceThresholdDays, true),
			new Number("settling-margin-days", ProtocolVersion::settlingMarginDays, true),
			new Number("clearing-probability", ProtocolForm::probability, false),
			new Number("curve-lumps", ProtocolVersion::curveLumps, false),
			new Number("repeatability-pairs", ProtocolVersion::repeatabilityPairs, false),
			new Number("repeatability-patients", ProtocolVersion::repeatabilityPatients, false),
			new Number("plateau-sessions", ProtocolVersion::plateauSessions, false),
			new Number("plateau-scars", ProtocolVersion::plateauScars, false),
			new Number("skin-shift-thin", (version) -> version.skinShift().thin(), true),
			new Number("skin-shift-medium", (version) -> version.skinShift().medium(), true),
			new Number("skin-shift-thick", (version) -> version.skinShift().thick(), true),
			new Number("contact-days", ProtocolForm::contactDays, true),
			new Number("contact-every-days", ProtocolVersion::contactEveryDays, true));

	private final PublishedProtocols protocols;

	private final PublishProtocol publishProtocol;

	private final StaffDirectory staff;

	private final CurrentStaff current;

	private final Clock clock;

	ProtocolController(PublishedProtocols protocols, PublishProtocol publishProtocol, StaffDirectory staff,
			CurrentStaff current, Clock clock) {
		this.protocols = protocols;
		this.publishProtocol = publishProtocol;
		this.staff = staff;
		this.current = current;
		this.clock = clock;
	}

	private record Number(String key, Function<ProtocolVersion, Object> value, boolean days) {
	}

	/**
	 * One number of the version shown.
	 *
	 * @param key second half of its message keys
	 * @param days whether it counts days
	 * @param other its value in the version that it is compared with
	 */
	record Line(String key, String value, boolean days, @Nullable String other) {

		public boolean differs() {
			return this.other != null && !this.other.equals(this.value);
		}

	}

	/** One line of the history. */
	record Version(int number, String publishedAt, @Nullable String publishedBy, @Nullable String note, int changes) {
	}

	@GetMapping("/setup/protocol")
	ModelAndView show(@RequestParam(required = false) @Nullable Integer version,
			@RequestParam(required = false) @Nullable Integer with) {
		var shown = (version != null) ? numbered(version) : this.protocols.current();
		var other = (with != null) ? numbered(with) : null;
		var history = this.protocols.history();
		return new ModelAndView("treatment/protocol").addObject("version", shown)
			.addObject("publishedOn", Written.day(shown.publishedOn()))
			.addObject("isCurrent", shown.number() == history.get(0).version().number())
			.addObject("with", other)
			.addObject("lines", NUMBERS.stream().map((number) -> line(number, shown, other)).toList())
			.addObject("shiftIsNotSet", shown.skinShift().equals(ProtocolVersion.SkinShift.NOT_SET))
			.addObject("shortBase", shown.baseDays() < CONSENSUS_LEAST_DAYS)
			.addObject("mayPublish", this.current.has(Role.CLINIC_LEAD))
			.addObject("history", history.stream().map((published) -> row(published, history)).toList());
	}

	@GetMapping("/setup/protocol/new")
	ModelAndView ask() {
		return page(HttpStatus.OK).addObject("form", ProtocolForm.from(this.protocols.current()));
	}

	@PostMapping("/setup/protocol/new")
	ModelAndView publish(@Valid @ModelAttribute("form") ProtocolForm form, BindingResult errors,
			RedirectAttributes flash) {
		if (!errors.hasErrors() && !form.contactDaysRise()) {
			errors.rejectValue("contactDays", "treatment.protocol.contact-days.rise");
		}
		if (!errors.hasErrors() && !form.leavesAnInterval()) {
			errors.rejectValue("skinShiftThin", "treatment.protocol.shift.no-interval");
		}
		if (!errors.hasErrors()) {
			try {
				this.publishProtocol.next(Objects.requireNonNull(form.basedOn()), form::toVersion,
						Objects.requireNonNull(form.note()));
				flash.addFlashAttribute("notice", "treatment.protocol.published");
				return new ModelAndView("redirect:/setup/protocol");
			}
			catch (NothingNew ex) {
				errors.reject("treatment.protocol.nothing-new");
			}
		}
		return page(HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView page(HttpStatus status) {
		return new ModelAndView("treatment/protocol-form", status).addObject("next",
				this.protocols.current().number() + 1);
	}

	private ProtocolVersion numbered(int number) {
		return this.protocols.byNumber(number).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private static Line line(Number number, ProtocolVersion shown, @Nullable ProtocolVersion other) {
		return new Line(number.key(), number.value().apply(shown).toString(), number.days(),
				(other != null) ? number.value().apply(other).toString() : null);
	}

	private Version row(PublishedVersion published, List<PublishedVersion> history) {
		var version = published.version();
		var before = history.stream()
			.map(PublishedVersion::version)
			.filter((candidate) -> candidate.number() == version.number() - 1)
			.findFirst();
		var changes = before
			.map((previous) -> (int) NUMBERS.stream()
				.filter((number) -> line(number, version, previous).differs())
				.count())
			.orElse(0);
		return new Version(version.number(), Written.time(published.publishedAt(), this.clock.getZone()),
				(published.publishedBy() != null)
						? this.staff.byId(published.publishedBy()).map(StaffMember::name).orElse(null) : null,
				published.note(), changes);
	}

}
