package org.seriatim.outcome.web;

import java.io.IOException;
import java.util.List;
import java.util.Map;

import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.outcome.ExpectedGain;
import org.seriatim.outcome.ExpectedGains;
import org.seriatim.outcome.domain.FaceImprovement;
import org.seriatim.outcome.domain.FollowedSessions;
import org.seriatim.outcome.domain.ScarImprovement;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** Whether scars and faces get better: the page and its files. */
@Controller
class ImprovementController {

	private static final String PATH = "/outcomes/improvement";

	private static final FilterReader.Extra TABLE = FilterReader.Extra.ofWords("table", "outcome.improvement", "scars",
			List.of("scars", "changed", "gais", "scales", "pores", "pore_density", "gain"));

	private static final FilterReader.Extra GROUP = FilterReader.Extra.ofWords("group", "outcome.filter.group",
			"scar_type", List.of("scar_type"));

	private final FilterReader filters;

	private final FollowedSessions sessions;

	private final ScarImprovement scars;

	private final FaceImprovement faces;

	private final ExpectedGains gains;

	private final ImprovementPage page;

	private final OutcomeWords words;

	ImprovementController(FilterReader filters, FollowedSessions sessions, ScarImprovement scars, FaceImprovement faces,
			ExpectedGains gains, ImprovementPage page, OutcomeWords words) {
		this.filters = filters;
		this.sessions = sessions;
		this.scars = scars;
		this.faces = faces;
		this.gains = gains;
		this.page = page;
		this.words = words;
	}

	@GetMapping(PATH)
	ModelAndView show(@RequestParam Map<String, String> sent) {
		var bar = this.filters.read(PATH, sent);
		var title = this.words.text("outcome.improvement.title");
		var lead = this.words.text("outcome.improvement.lead");
		if (bar.isWrong()) {
			return new ModelAndView("outcome/view",
					Map.of("page", new OutcomeView(title, lead, bar, null, List.of(), List.of())),
					HttpStatus.BAD_REQUEST);
		}
		var answer = this.scars.answer(bar.filter());
		return new ModelAndView("outcome/view", "page",
				new OutcomeView(title, lead, bar, this.sessions.flow(bar.filter()),
						List.of(this.words.text("outcome.improvement.left-out", answer.figures().noBaseline(),
								answer.figures().notComparable(), answer.figures().notFollowed())),
						List.of(this.page.scarSection(answer, bar), this.page.changedSection(answer, bar),
								this.page.gainSection(this.gains.latest(), bar), this.page
									.faceSection(this.faces.gais(bar.filter()), this.faces.scales(bar.filter()), bar),
								this.page.poreSection(this.faces.pores(bar.filter()), bar))));
	}

	@GetMapping(PATH + ".csv")
	void file(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, TABLE, GROUP);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var filter = bar.filter();
		FigureFile.write(switch (bar.chosen("table")) {
			case "changed" -> this.page.changed(this.scars.answer(filter).figures());
			case "gais" -> this.page.gais(this.faces.gais(filter));
			case "scales" -> this.page.changes("scales", this.faces.scales(filter));
			case "pores" -> this.page.changes("pores", this.faces.pores(filter).grades());
			case "gain" ->
				this.page.gains(this.gains.latest().map(ExpectedGains.Kept::gains).orElse(List.<ExpectedGain>of()));
			case "pore_density" -> this.page.changes("pore_density", this.faces.pores(filter).densities());
			default -> this.page.scars(this.scars.answer(filter).figures());
		}, response);
	}

}
