package org.seriatim.record.web;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Objects;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.shell.Written;
import org.seriatim.treatment.RecordedInjection;

/**
 * What was done at the last session, region by region.
 *
 * @param title which session, when and by whom
 */
record LastTime(String title, List<Row> regions) {

	/**
	 * A region.
	 *
	 * @param amount millilitres and points
	 * @param seen what was looked for, and in how many of the injections it was seen
	 */
	record Row(String region, String amount, String layers, String seen, String pain) {
	}

	static LastTime of(SessionEntry session, Texts texts) {
		var byRegion = new EnumMap<Region, List<RecordedInjection>>(Region.class);
		session.session()
			.injections()
			.forEach((injection) -> byRegion.computeIfAbsent(injection.region(), (region) -> new ArrayList<>())
				.add(injection));
		return new LastTime(
				texts.say("record.before.last.title", session.number(), Written.day(session.treatedOn()),
						session.practitioner()),
				byRegion.entrySet().stream().map((entry) -> row(entry.getKey(), entry.getValue(), texts)).toList());
	}

	private static Row row(Region region, List<RecordedInjection> injections, Texts texts) {
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
		var pain = injections.stream()
			.map(RecordedInjection::painNrs)
			.filter(Objects::nonNull)
			.max(Integer::compareTo)
			.map((worst) -> texts.say("record.contact.pain", worst))
			.orElse(Texts.NONE);
		return new Row(texts.region(region), texts.say("record.amount", number(volume, 2), number(points, 0)),
				layers.isEmpty() ? Texts.NONE : layers, seen(injections, texts), pain);
	}

	private static String number(SessionEntry.Total total, int decimals) {
		return total.isKnown() ? Written.number(total.sum(), decimals) : Texts.NONE;
	}

	private static String seen(List<RecordedInjection> injections, Texts texts) {
		var seen = new ArrayList<String>();
		add(seen, injections, RecordedInjection.Endpoints::blanching, "record.before.seen.blanching", texts);
		add(seen, injections, RecordedInjection.Endpoints::bleeding, "record.before.seen.bleeding", texts);
		add(seen, injections, RecordedInjection.Endpoints::baseLifted, "record.before.seen.base-lifted", texts);
		add(seen, injections, RecordedInjection.Endpoints::lumpRaised, "record.before.seen.lump-raised", texts);
		return Texts.joined(seen);
	}

	private static void add(List<String> seen, List<RecordedInjection> injections,
			Function<RecordedInjection.Endpoints, @Nullable Boolean> endpoint, String key, Texts texts) {
		var known = injections.stream()
			.map((injection) -> endpoint.apply(injection.endpoints()))
			.filter(Objects::nonNull)
			.toList();
		if (!known.isEmpty()) {
			seen.add(texts.say(key, known.stream().filter(Boolean::booleanValue).count(), known.size()));
		}
	}

}
