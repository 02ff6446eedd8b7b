package org.seriatim.record.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.shell.Written;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;

/**
 * What was done: volumes, points and layers by session, and by region and session.
 *
 * @param layers the layers that occur, headings of columns
 * @param headings the sessions, headings of the columns of the regions
 */
record TreatmentTable(List<Row> rows, List<String> layers, List<String> headings, List<RegionRow> regions) {

	/**
	 * A session.
	 *
	 * @param layers volume by layer, in the order of the columns
	 * @param unknown what of its amounts nobody recorded
	 */
	record Row(String anchor, String id, int number, String date, String practitioner, List<String> products,
			String prepared, String injected, String discarded, String points, List<String> layers, String combination,
			String pain, String massage, boolean belowDermis, @Nullable String unknown) {
	}

	/**
	 * A region, with what was placed in it session by session.
	 *
	 * @param anchor the row's id
	 */
	record RegionRow(String anchor, String region, List<Cell> cells) {
	}

	/** What was placed in a region in a session; empty where nothing was. */
	record Cell(@Nullable String amount, @Nullable String layers) {
	}

	static TreatmentTable of(List<SessionEntry> sessions, Texts texts) {
		var layers = EnumSet.noneOf(Layer.class);
		var regions = EnumSet.noneOf(Region.class);
		sessions.forEach((session) -> session.session().injections().forEach((injection) -> {
			regions.add(injection.region());
			if (injection.layer() != null) {
				layers.add(injection.layer());
			}
		}));
		return new TreatmentTable(sessions.stream().map((session) -> row(session, layers, texts)).toList(),
				layers.stream().map((layer) -> texts.word("record.layer", layer)).toList(),
				sessions.stream().map((session) -> texts.say("record.session", session.number())).toList(),
				regions.stream()
					.map((region) -> new RegionRow(Anchors.of(region).substring(1), texts.region(region),
							sessions.stream().map((session) -> cell(session, region, texts)).toList()))
					.toList());
	}

	private static Row row(SessionEntry entry, EnumSet<Layer> layers, Texts texts) {
		var session = entry.session();
		var byLayer = new EnumMap<Layer, List<RecordedInjection>>(Layer.class);
		session.injections()
			.stream()
			.filter((injection) -> injection.layer() != null)
			.forEach((injection) -> byLayer
				.computeIfAbsent(Objects.requireNonNull(injection.layer()), (layer) -> new ArrayList<>())
				.add(injection));
		return new Row(Anchors.of(entry).substring(1), entry.id().toString(), entry.number(),
				Written.day(entry.treatedOn()), entry.practitioner(),
				session.preparations().stream().map((preparation) -> product(preparation, texts)).distinct().toList(),
				volume(entry.preparedMl()), volume(entry.injectedMl()), volume(entry.discardedMl()),
				number(entry.points(), 0),
				layers.stream().map((layer) -> volumeOf(byLayer.getOrDefault(layer, List.of()))).toList(),
				combination(entry, texts), pain(entry, texts), texts.truth(session.massage()),
				byLayer.containsKey(Layer.BELOW_DERMIS), unknown(entry, texts));
	}

	private static String product(RecordedPreparation preparation, Texts texts) {
		return (preparation.lot() != null) ? texts.say("record.product", preparation.product(), preparation.lot())
				: preparation.product();
	}

	private static String volume(SessionEntry.Total total) {
		return number(total, 2);
	}

	private static String number(SessionEntry.Total total, int decimals) {
		return total.isKnown() ? Written.number(total.sum(), decimals) : Texts.NONE;
	}

	private static String volumeOf(List<RecordedInjection> injections) {
		return injections.isEmpty() ? Texts.NONE
				: volume(SessionEntry.Total.of(injections, RecordedInjection::volumeMl));
	}

	private static String combination(SessionEntry entry, Texts texts) {
		var combination = entry.session().combination();
		var words = texts.word("combination", combination);
		var depth = entry.session().rfDepthMm();
		return (combination != null && combination != Combination.NONE && depth != null)
				? texts.say("record.rf", words, depth.toPlainString()) : words;
	}

	private static String pain(SessionEntry entry, Texts texts) {
		var ofSession = entry.session().painNrs();
		return entry.worstPain()
			.map((worst) -> texts.say("record.pain", Texts.whole(ofSession), worst))
			.orElse(Texts.whole(ofSession));
	}

	/** What the sums leave out, since nobody recorded it. */
	private static @Nullable String unknown(SessionEntry entry, Texts texts) {
		var volumes = entry.injectedMl().unknown();
		var points = entry.points().unknown();
		return (volumes + points > 0)
				? texts.say("record.treatment.unknown", volumes, points, entry.session().injections().size()) : null;
	}

	private static Cell cell(SessionEntry entry, Region region, Texts texts) {
		var injections = entry.session()
			.injections()
			.stream()
			.filter((injection) -> injection.region() == region)
			.toList();
		if (injections.isEmpty()) {
			return new Cell(null, null);
		}
		var volume = SessionEntry.Total.of(injections, RecordedInjection::volumeMl);
		var points = SessionEntry.Total.of(injections,
				(injection) -> (injection.points() != null) ? BigDecimal.valueOf(injection.points()) : null);
		var layers = injections.stream()
			.map(RecordedInjection::layer)
			.filter(Objects::nonNull)
			.distinct()
			.sorted()
			.map((layer) -> texts.word("layer", layer))
			.collect(Collectors.joining(", "));
		return new Cell(texts.say("record.amount", number(volume, 2), number(points, 0)),
				layers.isEmpty() ? null : layers);
	}

}
