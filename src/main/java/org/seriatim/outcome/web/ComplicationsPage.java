package org.seriatim.outcome.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingKind;
import org.seriatim.outcome.domain.ComplicationGrouping;
import org.seriatim.outcome.domain.Funnel;
import org.seriatim.outcome.domain.OutcomeFilter;
import org.seriatim.outcome.domain.ReviewSignals;
import org.seriatim.outcome.domain.SessionRates;
import org.seriatim.outcome.domain.Signal;
import org.seriatim.outcome.domain.Surveillance;
import org.seriatim.outcome.web.Figures.Format;
import org.seriatim.shell.Plot;
import org.seriatim.shell.Written;
import org.seriatim.statistics.FunnelLimits;
import org.springframework.stereotype.Component;

/**
 * Rates of findings as tables and charts. Units stand in the order of their names, never
 * of their rates: this is no league table.
 */
@Component
class ComplicationsPage {

	/** More points of one line cannot be told apart, and make a page heavy. */
	private static final int MOST_POINTS = 1000;

	private final ReviewSignals reviews;

	private final OutcomeWords words;

	ComplicationsPage(ReviewSignals reviews, OutcomeWords words) {
		this.reviews = reviews;
		this.words = words;
	}

	/** The columns of the file are fixed for scripts that read it. */
	Figures rates(SessionRates rates, ComplicationGrouping grouping, Function<String, String> practitioners) {
		var table = Figures.named("rates", caption("rates", grouping), this.words)
			.column("group", Format.NAME)
			.column("kind", Format.NAME)
			.counts("patients", "sessions", "sessions_with_finding")
			.column("rate", Format.SHARE)
			.limits("wilson_low", "wilson_high", Format.SHARE)
			.column("design_effect", Format.HUNDREDTHS)
			.limits("low", "high", Format.SHARE);
		for (var row : inOrder(rates, grouping, practitioners)) {
			group(table.row(), row.group(), grouping, practitioners).name(row.kind().word(), kind(row.kind()))
				.number(row.patients())
				.number(row.sessions())
				.number(row.withFinding())
				.number(row.rate())
				.limits(row.wilson())
				.number(row.designEffect())
				.limits(row.limits())
				.end();
		}
		return table.done();
	}

	private String caption(String table, ComplicationGrouping grouping) {
		var caption = this.words.text("outcome.complications." + table + ".caption");
		return (grouping == ComplicationGrouping.NONE) ? caption : this.words.text("outcome.complications.by", caption,
				this.words.text("outcome.filter.group." + grouping.word()).toLowerCase(Locale.ENGLISH));
	}

	/** What stands beside the rates: by patient, unresolved, unobserved. */
	Figures beside(SessionRates rates, ComplicationGrouping grouping, Function<String, String> practitioners) {
		var table = Figures.named("beside", caption("beside", grouping), this.words)
			.column("group", Format.NAME)
			.column("kind", Format.NAME)
			.counts("patients", "patients_with_finding")
			.column("patient_rate", Format.SHARE)
			.limits("patient_low", "patient_high", Format.SHARE)
			.counts("findings", "unresolved", "sessions", "unobserved");
		for (var row : inOrder(rates, grouping, practitioners)) {
			group(table.row(), row.group(), grouping, practitioners).name(row.kind().word(), kind(row.kind()))
				.number(row.patients())
				.number(row.patientsWithFinding())
				.number(row.patientRate())
				.limits(row.patientLimits())
				.number(row.findings())
				.number(row.unresolved())
				.number(row.sessions())
				.number(row.unobserved())
				.end();
		}
		return table.done();
	}

	private List<SessionRates.Row> inOrder(SessionRates rates, ComplicationGrouping grouping,
			Function<String, String> practitioners) {
		return rates.rows()
			.stream()
			.sorted(Comparator
				.comparing((SessionRates.Row row) -> (grouping == ComplicationGrouping.PRACTITIONER)
						? practitioners.apply(row.group()) : row.group())
				.thenComparing(SessionRates.Row::kind))
			.toList();
	}

	private Figures.Builder.Row group(Figures.Builder.Row row, String group, ComplicationGrouping grouping,
			Function<String, String> practitioners) {
		return switch (grouping) {
			case PRACTITIONER -> {
				var label = practitioners.apply(group);
				yield row.name(label, label);
			}
			case REGION -> row.name(group, this.words.word("region", group));
			case PHOTOTYPE -> row.name(group, group.equals("unknown") ? this.words.text("outcome.group.unknown")
					: this.words.word("phototype", group));
			case LOT -> row.name(group, group.equals("unknown") ? this.words.text("outcome.group.unknown") : group,
					group.equals("unknown") ? null : recall(group));
			case PRODUCT -> row.name(group, group);
			case NONE -> row.name(group, this.words.text("outcome.group.all"));
		};
	}

	private static String recall(String lot) {
		return "/outcomes/recall?lot=" + java.net.URLEncoder.encode(lot, java.nio.charset.StandardCharsets.UTF_8);
	}

	OutcomeView.Section rateSection(SessionRates rates, ComplicationGrouping grouping,
			Function<String, String> practitioners, FilterBar bar) {
		return new OutcomeView.Writing("rates", this.words.text("outcome.complications.rates"))
			.lead(this.words.text("outcome.complications.rates.lead"))
			.table(rates(rates, grouping, practitioners), "/outcomes/complications.csv" + bar.query())
			.table(beside(rates, grouping, practitioners), "/outcomes/complications.csv" + bar.query("table", "beside"))
			.say(this.words.text("outcome.complications.beside.note"))
			.done();
	}

	/**
	 * Practitioners by name or code, lots by their own name, against the clinic's rate.
	 */
	Figures funnel(Funnel funnel, String word, Function<String, String> names) {
		var table = Figures.named(word, this.words.text("outcome.complications." + word + ".caption"), this.words)
			.column("group", Format.NAME)
			.counts("sessions", "effective_size", "sessions_with_finding")
			.column("rate", Format.SHARE)
			.limits("low_95", "high_95", Format.SHARE)
			.limits("low_998", "high_998", Format.SHARE)
			.column("place", Format.NAME);
		for (var point : inOrder(funnel, names)) {
			var place = point.place().name().toLowerCase(Locale.ROOT);
			table.row()
				.name(names.apply(point.unit()), names.apply(point.unit()))
				.number(point.sessions())
				.number(point.effectiveSize())
				.number(point.withFinding())
				.number(point.rate())
				.number(point.limits().low95())
				.number(point.limits().high95())
				.number(point.limits().low998())
				.number(point.limits().high998())
				.name(place, this.words.text("outcome.place." + place))
				.end();
		}
		return table.done();
	}

	private static List<Funnel.Point> inOrder(Funnel funnel, Function<String, String> names) {
		return funnel.points()
			.stream()
			.sorted(Comparator.comparing((Funnel.Point point) -> names.apply(point.unit())))
			.toList();
	}

	OutcomeView.Section funnelSection(@Nullable Funnel funnel, String word, Function<String, String> names,
			FilterBar bar, FindingKind kind) {
		var section = new OutcomeView.Writing(word, this.words.text("outcome.complications." + word));
		if (funnel == null || funnel.points().isEmpty()) {
			return section.say(this.words.text("outcome.complications.funnel.none")).done();
		}
		var figures = funnel(funnel, word, names);
		int most = funnel.points().stream().mapToInt(Funnel.Point::effectiveSize).max().orElse(1);
		double highest = Math.min(1,
				funnel.points().stream().mapToDouble(Funnel.Point::rate).max().orElse(1) * 1.2 + 2 * funnel.target());
		var sizes = IntStream.rangeClosed(1, 40)
			.map((step) -> Math.max(1, most * step / 36))
			.distinct()
			.boxed()
			.toList();
		var plot = new Plot(Plot.Axis.number(this.words.text("outcome.axis.effective-size")),
				Plot.Axis.share(this.words.text("outcome.axis.rate"), Math.ceil(highest * 20) / 20),
				List.of(new Plot.Series(this.words.text("outcome.funnel.95"), Plot.Shape.LINE,
						sizes.stream().map((size) -> band(funnel.target(), size, false)).toList()),
						new Plot.Series(this.words.text("outcome.funnel.998"), Plot.Shape.LINE,
								sizes.stream().map((size) -> band(funnel.target(), size, true)).toList()),
						new Plot.Series(this.words.text("outcome.funnel.unit." + word), Plot.Shape.POINTS,
								inOrder(funnel, names).stream()
									.map((point) -> new Plot.Point(point.effectiveSize(), point.rate()))
									.toList())),
				List.of(Plot.Mark.level(funnel.target(), this.words.text("outcome.funnel.target"))));
		section
			.lead(this.words.text("outcome.complications.funnel.lead", Written.number(100 * funnel.target(), 1),
					Written.number(funnel.designEffect(), 2)))
			.draw(new OutcomeView.Drawing(this.words.text("outcome.complications." + word),
					this.words.text("outcome.complications.funnel.summary", kind(kind)), plot, figures,
					this.words.text("outcome.complications.funnel.note"),
					"/outcomes/complications.csv" + bar.query("table", word)));
		section.say(funnel.dispersion().isPresent()
				? this.words.text(
						(funnel.dispersion().getAsDouble() > 1) ? "outcome.complications.dispersed"
								: "outcome.complications.not-dispersed",
						Written.number(funnel.dispersion().getAsDouble(), 2), funnel.points().size())
				: this.words.text("outcome.complications.few-units", Funnel.FEWEST_UNITS));
		return section.done();
	}

	private static Plot.Point band(double target, int size, boolean far) {
		var limits = FunnelLimits.exact(target, size);
		return new Plot.Point(size, null, far ? limits.low998() : limits.low95(),
				far ? limits.high998() : limits.high95());
	}

	Figures charts(Surveillance surveillance, Function<String, String> names) {
		var table = Figures.named("charts", this.words.text("outcome.complications.charts.caption"), this.words)
			.column("group", Format.NAME)
			.counts("sessions", "sessions_with_finding")
			.column("sum", Format.HUNDREDTHS)
			.column("threshold", Format.HUNDREDTHS)
			.counts("signals")
			.column("last_signal_on", Format.NAME);
		for (var chart : inOrder(surveillance, names)) {
			var row = table.row()
				.name(name(chart, names), name(chart, names))
				.number(chart.sessions())
				.number(chart.events())
				.number(chart.last())
				.number(surveillance.threshold())
				.number(chart.signalDays().size());
			if (chart.signalDays().isEmpty()) {
				row.number((Number) null).end();
			}
			else {
				var last = chart.signalDays().get(chart.signalDays().size() - 1);
				row.name(last.toString(), Written.day(last)).end();
			}
		}
		return table.done();
	}

	private String name(Surveillance.Chart chart, Function<String, String> names) {
		return chart.unit().equals(Surveillance.CLINIC) ? this.words.text("outcome.group.all")
				: names.apply(chart.unit());
	}

	/** The clinic first. */
	private List<Surveillance.Chart> inOrder(Surveillance surveillance, Function<String, String> names) {
		return surveillance.charts()
			.stream()
			.sorted(Comparator.comparing((Surveillance.Chart chart) -> !chart.unit().equals(Surveillance.CLINIC))
				.thenComparing((chart) -> name(chart, names)))
			.toList();
	}

	OutcomeView.Section chartSection(Surveillance surveillance, Function<String, String> names, FilterBar bar,
			FindingKind kind) {
		var section = new OutcomeView.Writing("charts", this.words.text("outcome.complications.charts"));
		var threshold = surveillance.threshold();
		if (threshold == null) {
			return section.say(this.words.text("outcome.complications.charts.none")).done();
		}
		var figures = charts(surveillance, names);
		var ordered = inOrder(surveillance, names);
		var drawn = ordered.stream()
			.sorted(Comparator.comparing((Surveillance.Chart chart) -> !chart.unit().equals(Surveillance.CLINIC))
				.thenComparing((chart) -> chart.signalDays().isEmpty())
				.thenComparing((chart) -> -chart.sessions()))
			.limit(Plot.MOST_SERIES)
			.toList();
		var series = ordered.stream()
			.filter(drawn::contains)
			.map((chart) -> new Plot.Series(name(chart, names), Plot.Shape.STEP, points(chart)))
			.toList();
		section
			.lead(this.words.text("outcome.complications.charts.lead", Written.number(100 * surveillance.rate(), 1),
					Written.number(threshold, 2),
					(surveillance.runLength() != null) ? Written.number(surveillance.runLength(), 0) : "–"))
			.draw(new OutcomeView.Drawing(this.words.text("outcome.complications.charts"),
					this.words.text("outcome.complications.charts.summary", kind(kind)),
					new Plot(Plot.Axis.days(this.words.text("outcome.axis.day")),
							Plot.Axis.number(this.words.text("outcome.axis.sum")), series,
							List.of(Plot.Mark.level(threshold, this.words.text("outcome.charts.threshold")))),
					figures,
					(drawn.size() < ordered.size()) ? this.words.text("outcome.complications.charts.some") : null,
					"/outcomes/complications.csv" + bar.query("table", "charts")));
		if (drawn.stream().anyMatch(ComplicationsPage::isThinned)) {
			section.say(this.words.text("outcome.complications.charts.thinned", MOST_POINTS));
		}
		return section.say(this.words.text("outcome.complications.charts.note")).done();
	}

	/** Of many sessions the highest sum of each day, so that no signal is missing. */
	private static List<Plot.Point> points(Surveillance.Chart chart) {
		var points = new ArrayList<Plot.Point>();
		if (isThinned(chart)) {
			var highest = new TreeMap<LocalDate, Double>();
			for (int i = 0; i < chart.statistic().size(); i++) {
				highest.merge(chart.days().get(i), chart.statistic().get(i), Math::max);
			}
			highest.forEach((day, sum) -> points.add(Plot.Point.on(day, sum)));
			return points;
		}
		for (int i = 0; i < chart.statistic().size(); i++) {
			points.add(Plot.Point.on(chart.days().get(i), chart.statistic().get(i)));
		}
		return points;
	}

	private static boolean isThinned(Surveillance.Chart chart) {
		return chart.sessions() > MOST_POINTS;
	}

	Figures gaps(Surveillance.@Nullable Gaps gaps) {
		var table = Figures.named("gaps", this.words.text("outcome.complications.gaps.caption"), this.words)
			.column("found_on", Format.NAME)
			.counts("sessions_between")
			.column("centre", Format.TENTHS)
			.limits("gap_low", "gap_high", Format.TENTHS);
		if (gaps != null) {
			for (int i = 0; i < gaps.days().size(); i++) {
				var point = gaps.chart().points().get(i);
				table.row()
					.name(gaps.days().get(i).toString(), Written.day(gaps.days().get(i)))
					.number((int) point.value())
					.number(gaps.chart().centre())
					.number(point.low())
					.number(point.high())
					.end();
			}
		}
		return table.done();
	}

	OutcomeView.Section gapSection(Surveillance.Gaps gaps, FilterBar bar, FindingKind kind) {
		var figures = gaps(gaps);
		var points = IntStream.range(0, gaps.days().size())
			.mapToObj((i) -> new Plot.Point(i + 1, gaps.chart().points().get(i).value()))
			.toList();
		var high = gaps.chart().points().get(0).high();
		return new OutcomeView.Writing("gaps", this.words.text("outcome.complications.gaps"))
			.lead(this.words.text("outcome.complications.gaps.lead", gaps.since()))
			.draw(new OutcomeView.Drawing(this.words.text("outcome.complications.gaps"),
					this.words.text("outcome.complications.gaps.summary", kind(kind)),
					new Plot(Plot.Axis.number(this.words.text("outcome.axis.finding")),
							Plot.Axis.number(this.words.text("outcome.axis.gap")),
							List.of(new Plot.Series(this.words.text("outcome.axis.gap"), Plot.Shape.LINE, points)),
							List.of(Plot.Mark.level(gaps.chart().centre(), this.words.text("outcome.gaps.centre")),
									Plot.Mark.level(high, this.words.text("outcome.gaps.high")))),
					figures, null, "/outcomes/complications.csv" + bar.query("table", "gaps")))
			.done();
	}

	/**
	 * A signal, and whether somebody looks into it already.
	 *
	 * @param sentence what the chart said
	 * @param value the id of a practitioner or the name of a lot
	 * @param review address of the open review, none where there is none
	 */
	record Signalled(String sentence, String chart, String unit, @Nullable String value, @Nullable String review) {
	}

	/** What the charts of a view say that somebody should look into. */
	List<Signalled> signals(@Nullable Funnel practitioners, @Nullable Funnel lots, Surveillance surveillance,
			Function<String, String> names, FindingKind kind) {
		var signals = new ArrayList<Signalled>();
		if (practitioners != null) {
			inOrder(practitioners, names).stream()
				.filter((point) -> point.place().isSignal())
				.forEach((point) -> signals.add(signal(Signal.Chart.FUNNEL, Signal.Unit.PRACTITIONER, point.unit(),
						names.apply(point.unit()), point.place().name(), kind)));
		}
		if (lots != null) {
			inOrder(lots, (lot) -> lot).stream()
				.filter((point) -> point.place().isSignal() && !point.unit().equals("unknown"))
				.forEach((point) -> signals.add(signal(Signal.Chart.FUNNEL, Signal.Unit.LOT, point.unit(), point.unit(),
						point.place().name(), kind)));
		}
		inOrder(surveillance, names).stream().filter((chart) -> !chart.signalDays().isEmpty()).forEach((chart) -> {
			boolean clinic = chart.unit().equals(Surveillance.CLINIC);
			signals.add(signal(Signal.Chart.CUSUM, clinic ? Signal.Unit.CLINIC : Signal.Unit.PRACTITIONER,
					clinic ? null : chart.unit(), name(chart, names), "CUSUM", kind));
		});
		return signals;
	}

	private Signalled signal(Signal.Chart chart, Signal.Unit unit, @Nullable String value, String name, String what,
			FindingKind kind) {
		return new Signalled(this.words.text("outcome.signal." + what.toLowerCase(Locale.ROOT), name, kind(kind)),
				chart.word(), unit.word(), value,
				this.reviews.openOne(chart, kind, unit, value)
					.map((review) -> "/outcomes/reviews/" + review.id())
					.orElse(null));
	}

	String kind(FindingKind kind) {
		return this.words.word("finding-kind", kind.word());
	}

	/** The days of a filter as a record keeps them. */
	static Signal signal(Signal.Chart chart, Signal.Unit unit, @Nullable String value, OutcomeFilter filter,
			SessionRates.Row row, double clinicRate) {
		return new Signal(chart, row.kind(), unit,
				(unit == Signal.Unit.PRACTITIONER && value != null) ? org.seriatim.access.StaffId.of(value) : null,
				(unit == Signal.Unit.LOT) ? value : null, filter.from(), filter.to(), row.sessions(), row.withFinding(),
				clinicRate);
	}

}
