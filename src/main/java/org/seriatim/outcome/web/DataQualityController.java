package org.seriatim.outcome.web;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.outcome.domain.DataQuality;
import org.seriatim.outcome.domain.FollowedSessions;
import org.seriatim.outcome.web.Figures.Format;
import org.seriatim.shell.Plot;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/** What in the records contradicts itself or is missing, with the way to mend it. */
@Controller
class DataQualityController {

	private static final String PATH = "/outcomes/data-quality";

	/** A longer list is worked on from its top. */
	private static final int MOST_SHOWN = 100;

	private static final FilterReader.Extra TABLE = FilterReader.Extra.ofWords("table", "outcome.quality", "items",
			List.of("items", "quarters"));

	private final FilterReader filters;

	private final DataQuality quality;

	private final FollowedSessions sessions;

	private final OutcomeWords words;

	DataQualityController(FilterReader filters, DataQuality quality, FollowedSessions sessions, OutcomeWords words) {
		this.filters = filters;
		this.quality = quality;
		this.sessions = sessions;
		this.words = words;
	}

	@GetMapping(PATH)
	ModelAndView show(@RequestParam Map<String, String> sent) {
		var bar = this.filters.read(PATH, sent);
		var title = this.words.text("outcome.quality.title");
		var lead = this.words.text("outcome.quality.lead");
		if (bar.isWrong()) {
			return new ModelAndView("outcome/view",
					Map.of("page", new OutcomeView(title, lead, bar, null, List.of(), List.of())),
					HttpStatus.BAD_REQUEST);
		}
		var answer = this.quality.answer(bar.filter());
		var sections = new ArrayList<OutcomeView.Section>();
		sections.add(overTime(answer, bar));
		for (DataQuality.Kind kind : DataQuality.Kind.values()) {
			sections.add(items(answer, kind, bar));
		}
		return new ModelAndView("outcome/view", "page", new OutcomeView(title, lead, bar,
				this.sessions.flow(bar.filter()), List.of(this.words.text("outcome.quality.filters")), sections));
	}

	@GetMapping(PATH + ".csv")
	void file(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, TABLE);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var answer = this.quality.answer(bar.filter());
		FigureFile.write(bar.chosen("table").equals("quarters") ? quarters(answer)
				: itemFigures(answer.items(), this.words.text("outcome.quality.items")), response);
	}

	private String kind(DataQuality.Kind kind) {
		return this.words.text("outcome.quality.kind." + word(kind));
	}

	private static String word(DataQuality.Kind kind) {
		return kind.name().toLowerCase(Locale.ROOT);
	}

	Figures quarters(DataQuality.Answer answer) {
		var table = Figures.named("quarters", this.words.text("outcome.quality.quarters"), this.words)
			.column("problem", Format.NAME)
			.column("quarter_from", Format.NAME)
			.counts("entries", "wrong")
			.column("share", Format.SHARE);
		for (var quarter : answer.quarters()) {
			table.row()
				.name(word(quarter.kind()), kind(quarter.kind()))
				.name(quarter.quarter().toString(), Written.day(quarter.quarter()))
				.number(quarter.entries())
				.number(quarter.wrong())
				.number(quarter.share())
				.end();
		}
		return table.done();
	}

	private OutcomeView.Section overTime(DataQuality.Answer answer, FilterBar bar) {
		var table = quarters(answer);
		var series = Arrays.stream(DataQuality.Kind.values())
			.map((kind) -> new Plot.Series(kind(kind), Plot.Shape.LINE,
					answer.quarters()
						.stream()
						.filter((quarter) -> quarter.kind() == kind)
						.map((quarter) -> Plot.Point.on(quarter.quarter(), quarter.share()))
						.toList()))
			.filter((line) -> !line.points().isEmpty())
			.toList();
		double most = answer.quarters().stream().mapToDouble(DataQuality.Quarter::share).max().orElse(1);
		var section = new OutcomeView.Writing("quarters", this.words.text("outcome.quality.over-time"))
			.lead(this.words.text("outcome.quality.over-time.lead"));
		if (!series.isEmpty()) {
			section.draw(new OutcomeView.Drawing(this.words.text("outcome.quality.over-time"),
					this.words.text("outcome.quality.over-time.summary"),
					new Plot(Plot.Axis.days(this.words.text("outcome.column.quarter_from")),
							Plot.Axis.share(this.words.text("outcome.column.share"),
									Math.max(0.05, Math.ceil(most * 20) / 20)),
							series),
					table, null, PATH + ".csv" + bar.query("table", "quarters")));
		}
		return section.done();
	}

	private Figures itemFigures(List<DataQuality.Item> items, String caption) {
		var table = Figures.named("items", caption, this.words)
			.column("record_number", Format.NAME)
			.column("problem", Format.NAME)
			.column("day_of_it", Format.NAME);
		for (var item : items) {
			table.row()
				.name(item.recordNumber(), this.words.text("outcome.quality.mend", item.recordNumber()), item.address())
				.name(word(item.kind()), kind(item.kind()))
				.name(item.day().toString(), Written.day(item.day()))
				.end();
		}
		return table.done();
	}

	private OutcomeView.Section items(DataQuality.Answer answer, DataQuality.Kind kind, FilterBar bar) {
		var ofKind = answer.items().stream().filter((item) -> item.kind() == kind).toList();
		var section = new OutcomeView.Writing(word(kind), kind(kind))
			.lead(this.words.text("outcome.quality.why." + word(kind)))
			.table(itemFigures(ofKind.subList(0, Math.min(MOST_SHOWN, ofKind.size())), kind(kind)),
					ofKind.isEmpty() ? null : PATH + ".csv" + bar.query());
		if (ofKind.size() > MOST_SHOWN) {
			section.say(this.words.text("outcome.quality.more", MOST_SHOWN, ofKind.size()));
		}
		return section.done();
	}

}
