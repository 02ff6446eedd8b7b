package org.seriatim.record.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.ToIntFunction;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Ecca;
import org.seriatim.assessment.FaceCount;
import org.seriatim.assessment.GlobalScale;
import org.seriatim.record.domain.Counted;
import org.seriatim.record.domain.GlobalEntry;
import org.seriatim.record.domain.ScaleProgress;
import org.seriatim.record.domain.SeriesFigures;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.record.domain.StageValues;
import org.seriatim.shell.Written;

/**
 * The scales of the whole face over the stages: the ECCA score, which complete counts
 * determine, and what was recorded as a number. Ratings of several assessors on one day
 * stay beside each other.
 *
 * @param stages headings of the columns
 * @param ecca whether there is an ECCA score, and with it the note on its weights
 * @param counts the counts that the score rests on, by type
 * @param missing what a complete count still needs, where there is none
 */
record ScaleTable(List<String> stages, List<Row> rows, boolean ecca, List<CountRow> counts, @Nullable String missing,
		@Nullable String withinObservers) {

	/**
	 * Up to this many points two observers of the quantitative total differ on one
	 * photograph (19 of 21 photographs; Goodman and Baron 2006).
	 */
	private static final int OBSERVER_DIFFERENCE = 4;

	/** A scale, with its value at each stage. */
	record Row(String scale, String better, List<String> values, String change) {
	}

	/** A counted type, with its number at each stage. */
	record CountRow(String type, List<String> values) {
	}

	static ScaleTable of(SeriesFigures figures, List<SessionEntry> sessions, Texts texts) {
		var headings = Stages.headings(sessions, texts);
		var stages = headings.size();
		var rows = new ArrayList<Row>();
		var complete = figures.complete();
		if (!complete.isEmpty()) {
			rows.add(eccaRow("record.scale.ecca", complete, stages, Ecca::total, texts));
			rows.add(eccaRow("record.scale.ecca.atrophic", complete, stages, Ecca::atrophic, texts));
			rows.add(eccaRow("record.scale.ecca.raised", complete, stages, Ecca::raised, texts));
		}
		figures.scales().forEach((scale) -> rows.add(row(scale, stages, texts)));
		scarS(figures.scales(), stages, texts).ifPresent(rows::add);
		return new ScaleTable(headings, rows, !complete.isEmpty(), counts(figures.counts(), stages, texts),
				missing(figures, texts), withinObservers(figures.scales(), texts));
	}

	private static Row eccaRow(String key, StageValues<Counted> complete, int stages, ToIntFunction<Ecca> part,
			Texts texts) {
		var values = complete.byStage()
			.stream()
			.limit(stages)
			.map((counts) -> counts.stream()
				.map((counted) -> Integer.toString(part.applyAsInt(counted.count().ecca().orElseThrow())))
				.distinct()
				.collect(Collectors.joining(" / ")))
			.map((text) -> text.isEmpty() ? Texts.NONE : text)
			.toList();
		return new Row(texts.say(key), texts.say("record.scale.lower"), values,
				change(single(complete.baseline(), part), single(complete.latest(), part)));
	}

	private static @Nullable Integer single(List<Counted> counts, ToIntFunction<Ecca> part) {
		var values = counts.stream()
			.map((counted) -> part.applyAsInt(counted.count().ecca().orElseThrow()))
			.distinct()
			.toList();
		return (values.size() == 1) ? values.get(0) : null;
	}

	private static String change(@Nullable Integer before, @Nullable Integer after) {
		return (before != null && after != null) ? Written.signed(after - before, 0) : Texts.NONE;
	}

	private static Row row(ScaleProgress scale, int stages, Texts texts) {
		var known = scale.known().orElse(null);
		var values = scale.values()
			.byStage()
			.stream()
			.limit(stages)
			.map((entries) -> entries.stream()
				.map((entry) -> value(entry, texts))
				.distinct()
				.collect(Collectors.joining(" / ")))
			.map((text) -> text.isEmpty() ? Texts.NONE : text)
			.toList();
		return new Row(name(scale, texts),
				(known != null) ? texts.say(known.higherIsBetter() ? "record.scale.higher" : "record.scale.lower") : "",
				values, (known == GlobalScale.GAIS) ? texts.say("record.scale.own-baseline") : change(scale));
	}

	private static String name(ScaleProgress scale, Texts texts) {
		return texts.word("record.scale." + scale.scale(), scale.item()).equals(scale.item())
				? scale.scale() + ", " + scale.item() : texts.say("record.scale." + scale.scale() + "." + scale.item());
	}

	/** GAIS levels are words, not amounts. */
	private static String value(GlobalEntry entry, Texts texts) {
		if (GlobalScale.GAIS.word().equals(entry.scale())) {
			return texts.word("record.gais", entry.value().toPlainString());
		}
		return entry.value().stripTrailingZeros().toPlainString();
	}

	private static String change(ScaleProgress scale) {
		var before = single(scale.values().baseline());
		var after = single(scale.values().latest());
		return (before != null && after != null) ? Written.signed(after - before, 0) : Texts.NONE;
	}

	private static @Nullable Double single(List<GlobalEntry> entries) {
		var values = entries.stream().map((entry) -> entry.value().doubleValue()).distinct().toList();
		return (values.size() == 1) ? values.get(0) : null;
	}

	/** The sum of the three sites; without one of them there is none. */
	private static Optional<Row> scarS(List<ScaleProgress> scales, int stages, Texts texts) {
		var sites = scales.stream().filter((scale) -> scale.scale().equals(GlobalScale.SCAR_S.word())).toList();
		if (sites.isEmpty()) {
			return Optional.empty();
		}
		var values = new ArrayList<String>();
		for (var stage = 0; stage < stages; stage++) {
			var at = stage;
			var ofSites = sites.stream()
				.map((site) -> (at < site.values().byStage().size()) ? single(site.values().byStage().get(at)) : null)
				.filter(Objects::nonNull)
				.toList();
			values.add((ofSites.size() == GlobalScale.SCAR_S.items().size())
					? Written.number(ofSites.stream().mapToDouble(Double::doubleValue).sum(), 0) : Texts.NONE);
		}
		return Optional
			.of(new Row(texts.say("record.scale.scar-s.sum"), texts.say("record.scale.lower"), values, Texts.NONE));
	}

	private static List<CountRow> counts(StageValues<Counted> counts, int stages, Texts texts) {
		var rows = new ArrayList<CountRow>();
		for (var type : CountedType.values()) {
			var values = counts.byStage()
				.stream()
				.limit(stages)
				.map((ofStage) -> ofStage.stream()
					.filter((counted) -> counted.of(type).isPresent())
					.map((counted) -> texts.say("record.count", counted.of(type).getAsInt(), counted.regionsOf(type)))
					.distinct()
					.collect(Collectors.joining(" / ")))
				.toList();
			if (values.stream().anyMatch((value) -> !value.isEmpty())) {
				rows.add(new CountRow(texts.word("scar-type", type),
						values.stream().map((value) -> value.isEmpty() ? Texts.NONE : value).toList()));
			}
		}
		return rows;
	}

	/**
	 * Where nothing is complete: how far the fullest count of the last day is from it.
	 */
	private static @Nullable String missing(SeriesFigures figures, Texts texts) {
		if (!figures.complete().isEmpty()) {
			return null;
		}
		var cells = FaceCount.faceRegions().size() * FaceCount.scoredTypes().size();
		var last = figures.counts().byStage().stream().filter((counts) -> !counts.isEmpty()).reduce((a, b) -> b);
		return last.map((counts) -> {
			var fewest = counts.stream().mapToInt((counted) -> counted.count().missing()).min().orElse(cells);
			return texts.say("record.scale.ecca.missing", cells - fewest, cells);
		}).orElse(null);
	}

	private static @Nullable String withinObservers(List<ScaleProgress> scales, Texts texts) {
		return scales.stream()
			.filter((scale) -> scale.known().filter(GlobalScale.GOODMAN_BARON_QUANTITATIVE::equals).isPresent())
			.filter((scale) -> {
				var before = single(scale.values().baseline());
				var after = single(scale.values().latest());
				return before != null && after != null && Math.abs(after - before) <= OBSERVER_DIFFERENCE
						&& !scale.values()
							.baseline()
							.get(0)
							.assessor()
							.equals(scale.values().latest().get(0).assessor());
			})
			.map((scale) -> texts.say("record.scale.within-observers", OBSERVER_DIFFERENCE))
			.findFirst()
			.orElse(null);
	}

}
