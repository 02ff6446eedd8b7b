package org.seriatim.shell.web;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Set;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.PastOrPresent;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Choice;
import org.seriatim.shell.ComponentSample;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.IntervalBar;
import org.seriatim.shell.Paged;
import org.seriatim.shell.Plot;
import org.seriatim.shell.Section;
import org.seriatim.shell.Sorting;
import org.seriatim.shell.Sparkline;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
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

	private static final List<ScarRow> SCARS = List.of(
			new ScarRow("CHR1", "Boxcar", "0.62", "0.35", "\u221244", "better", "better",
					Sparkline.of(Arrays.asList(0.62, 0.55, 0.41, 0.35), 0.7),
					IntervalBar.of(-58.0, -44.0, -27.0, -100, 50)),
			new ScarRow("CHR2", "Rolling", "0.48", "0.45", "\u22126", "same", "not beyond error",
					Sparkline.of(Arrays.asList(0.48, null, 0.47, 0.45), 0.7),
					IntervalBar.of(-24.0, -6.0, 15.0, -100, 50)),
			new ScarRow("CHL1", "Ice pick", "0.40", "0.57", "+43", "worse", "worse",
					Sparkline.of(Arrays.asList(0.40, 0.44, 0.51, 0.57), 0.7),
					IntervalBar.of(18.0, 43.0, null, -100, 50)));

	private static final Plot CURVE = new Plot(
			Plot.Axis.number("Day after the session"), Plot.Axis.share("Still present"), List.of(
					new Plot.Series("Mid dermis", Plot.Shape.STEP,
							List.of(new Plot.Point(0, 1.0, 1.0, 1.0), new Plot.Point(2, 0.72, 0.61, 0.82),
									new Plot.Point(4, 0.41, 0.30, 0.53), new Plot.Point(7, 0.2, 0.12, 0.31),
									new Plot.Point(13, 0.08, 0.03, 0.16), new Plot.Point(21, 0.03, 0.0, 0.09),
									new Plot.Point(28, 0.03, 0.0, 0.09))),
					new Plot.Series("Superficial dermis", Plot.Shape.STEP,
							List.of(new Plot.Point(0, 1.0, 1.0, 1.0), new Plot.Point(3, 0.88, 0.76, 0.96),
									new Plot.Point(7, 0.63, 0.48, 0.77), new Plot.Point(13, 0.44, 0.3, 0.6),
									new Plot.Point(21, 0.25, 0.13, 0.41), new Plot.Point(28, 0.18, 0.08, 0.33)))),
			List.of(Plot.Mark.at(14, "threshold")));

	private static final Plot RATES = new Plot(Plot.Axis.categories("Practitioner", List.of("A", "B", "C", "D")),
			Plot.Axis.share("Sessions with a bruise", 0.4),
			List.of(new Plot.Series("Rate", Plot.Shape.POINTS,
					List.of(new Plot.Point(0, 0.11, 0.06, 0.19), new Plot.Point(1, 0.14, 0.08, 0.24),
							new Plot.Point(2, 0.27, 0.18, 0.37), new Plot.Point(3, 0.09, 0.03, 0.22)))),
			List.of(Plot.Mark.level(0.15, "all sessions")));

	private static final Plot DAYS = new Plot(Plot.Axis.days("Day"), Plot.Axis.number("Depth in mm"), List
		.of(new Plot.Series("CHR1", Plot.Shape.LINE,
				List.of(Plot.Point.on(LocalDate.of(2026, 1, 12), 0.62), Plot.Point.on(LocalDate.of(2026, 2, 23), 0.55),
						Plot.Point.on(LocalDate.of(2026, 4, 8), 0.41), Plot.Point.on(LocalDate.of(2026, 5, 20), 0.35))),
				new Plot.Series("CHR2", Plot.Shape.LINE,
						List.of(Plot.Point.on(LocalDate.of(2026, 1, 12), 0.48),
								Plot.Point.on(LocalDate.of(2026, 4, 8), 0.47),
								Plot.Point.on(LocalDate.of(2026, 5, 20), 0.45)))));

	private final List<ComponentSample> samples;

	ComponentsController(ObjectProvider<ComponentSample> samples) {
		this.samples = samples.orderedStream().toList();
	}

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

	private ModelAndView page(HttpStatus status) {
		var page = new ModelAndView("shell/components", status);
		page.addObject("sections", Choice.ofWords("shell.components.section", Section.values()));
		page.addObject("severities", Choice.ofGrades("shell.components.severity", 0, 4));
		page.addObject("sorting", new Sorting("first-day", false));
		page.addObject("scars", new Paged<>(SCARS, 2, 3, 8));
		page.addObject("curve", CURVE);
		page.addObject("rates", RATES);
		page.addObject("days", DAYS);
		page.addObject("samples", this.samples);
		return page;
	}

	/** A row of the sample table. */
	record ScarRow(String label, String type, String baseline, String latest, String change, String response,
			String responseText, Sparkline line, IntervalBar interval) {
	}

	/** One field of each kind. */
	record SampleForm(@NotBlank @Size(max = 40) @Nullable String goal,
			@NotNull @Decimal(min = "0", max = "10", fraction = 2, unit = "mm") @Nullable String depthMm,
			@Decimal(min = "1", max = "200") @Nullable String points,
			@NotNull @PastOrPresent @Nullable LocalDate seenOn, @NotNull @Nullable Section section,
			@Nullable Section landing, @Nullable Boolean numb, @Nullable Integer severity,
			@Nullable Set<Section> interests, boolean photographed, @Size(max = 400) @Nullable String note) {

		static SampleForm empty() {
			return new SampleForm(null, null, null, null, null, null, null, null, Set.of(), false, null);
		}

	}

}
