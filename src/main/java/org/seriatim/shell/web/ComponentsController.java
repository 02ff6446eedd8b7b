package org.seriatim.shell.web;

import java.time.LocalDate;
import java.util.List;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.PastOrPresent;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.Paged;
import org.seriatim.shell.Section;
import org.seriatim.shell.Sorting;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Every component on one page, for those who build pages. Its form takes what is typed,
 * checks it as any form does, and keeps nothing.
 */
@Controller
class ComponentsController {

	@GetMapping("/components")
	ModelAndView components() {
		return page(HttpStatus.OK).addObject("form", SampleForm.empty());
	}

	@PostMapping("/components")
	ModelAndView check(@Valid @ModelAttribute("form") SampleForm form, BindingResult errors, RedirectAttributes flash) {
		if (errors.hasErrors()) {
			return page(HttpStatus.UNPROCESSABLE_CONTENT);
		}
		flash.addFlashAttribute("notice", "shell.components.checked");
		return new ModelAndView("redirect:/components");
	}

	private static ModelAndView page(HttpStatus status) {
		var page = new ModelAndView("shell/components", status);
		page.addObject("sections", Choice.ofWords("shell.components.section", Section.values()));
		page.addObject("severities", Choice.ofGrades("shell.components.severity", 0, 4));
		page.addObject("sorting", new Sorting("first-day", false));
		page.addObject("paged", new Paged<>(List.of("a", "b", "c"), 2, 3, 8));
		return page;
	}

	/** One field of each kind. */
	record SampleForm(@NotBlank @Size(max = 40) @Nullable String goal,
			@NotNull @Decimal(min = "0", max = "10", fraction = 2, unit = "mm") @Nullable String depthMm,
			@Decimal(min = "1", max = "200") @Nullable String points,
			@NotNull @PastOrPresent @Nullable LocalDate seenOn, @NotNull @Nullable Section section,
			@Nullable Section landing, @Nullable Boolean numb, @Nullable Integer severity, boolean photographed,
			@Size(max = 400) @Nullable String note) {

		static SampleForm empty() {
			return new SampleForm(null, null, null, null, null, null, null, null, false, null);
		}

	}

}
