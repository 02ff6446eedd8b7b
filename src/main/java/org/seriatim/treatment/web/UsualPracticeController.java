package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.time.Clock;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.shell.Written;
import org.seriatim.treatment.domain.NothingNew;
import org.seriatim.treatment.domain.UsualMeasure;
import org.seriatim.treatment.domain.UsualPractice;
import org.seriatim.treatment.domain.UsualPractices;
import org.seriatim.treatment.domain.UsualTopic;
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

/** Setup: how the clinic usually works, its history, and the next version of it. */
@Controller
@ConditionalOnWebApplication
class UsualPracticeController {

	private final UsualPractices practices;

	private final StaffDirectory staff;

	private final CurrentStaff current;

	private final Clock clock;

	UsualPracticeController(UsualPractices practices, StaffDirectory staff, CurrentStaff current, Clock clock) {
		this.practices = practices;
		this.staff = staff;
		this.current = current;
		this.clock = clock;
	}

	/** A measure with the ends of its range, written. */
	record RangeLine(String measure, @Nullable String low, @Nullable String high, String unit) {

		static RangeLine of(UsualMeasure measure, UsualPractice practice) {
			var range = practice.ranges().get(measure);
			return new RangeLine(measure.word(), (range != null) ? figure(range.low()) : null,
					(range != null) ? figure(range.high()) : null, measure.unit());
		}

		private static @Nullable String figure(@Nullable BigDecimal value) {
			return (value != null) ? value.toPlainString() : null;
		}

	}

	/** A topic with its note. */
	record NoteLine(String topic, @Nullable String note) {
	}

	/** One line of the history. */
	record Version(int number, String publishedAt, @Nullable String publishedBy, String reason) {
	}

	@GetMapping("/setup/usual-practice")
	ModelAndView show(@RequestParam(required = false) @Nullable Integer version) {
		var history = this.practices.history();
		var shown = (version != null)
				? this.practices.byNumber(version).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND))
				: this.practices.current();
		return new ModelAndView("treatment/usual-practice").addObject("number", shown.number())
			.addObject("isCurrent", shown.number() == history.get(0).number())
			.addObject("ranges",
					Arrays.stream(UsualMeasure.values()).map((measure) -> RangeLine.of(measure, shown)).toList())
			.addObject("notes",
					Arrays.stream(UsualTopic.values())
						.map((topic) -> new NoteLine(topic.word(), shown.notes().get(topic)))
						.toList())
			.addObject("mayPublish", this.current.has(Role.CLINIC_LEAD))
			.addObject("history", history.stream().map(this::version).toList());
	}

	@GetMapping("/setup/usual-practice/new")
	ModelAndView ask() {
		return page(HttpStatus.OK).addObject("form", UsualPracticeForm.from(this.practices.current()));
	}

	@PostMapping("/setup/usual-practice/new")
	ModelAndView publish(@Valid @ModelAttribute("form") UsualPracticeForm form, BindingResult errors,
			RedirectAttributes flash) {
		if (!errors.hasErrors()) {
			form.rejectReversed(errors);
		}
		if (!errors.hasErrors()) {
			try {
				this.practices.publish(form.toPractice(), Objects.requireNonNull(form.reason()).strip());
				flash.addFlashAttribute("notice", "treatment.usual.published");
				return new ModelAndView("redirect:/setup/usual-practice");
			}
			catch (NothingNew ex) {
				errors.reject("treatment.usual.nothing-new");
			}
		}
		return page(HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView page(HttpStatus status) {
		return new ModelAndView("treatment/usual-practice-form", status)
			.addObject("next", this.practices.current().number() + 1)
			.addObject("measures", List.of(UsualMeasure.values()))
			.addObject("topics", List.of(UsualTopic.values()));
	}

	private Version version(UsualPractices.Published published) {
		return new Version(published.number(), Written.time(published.at(), this.clock.getZone()),
				(published.by() != null) ? this.staff.byId(published.by()).map(StaffMember::name).orElse(null) : null,
				published.reason());
	}

}
