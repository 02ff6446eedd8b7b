package org.seriatim.record.domain;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Optional;

import org.seriatim.assessment.GlobalScale;
import org.seriatim.assessment.SeriesStages;

/**
 * One number of a scale of the whole face through the stages of a series, as it was
 * recorded: ratings of several assessors stay beside each other and are not averaged.
 *
 * @param scale the scale's word in files
 * @param item the item's word in files
 */
public record ScaleProgress(String scale, String item, StageValues<GlobalEntry> values) {

	static List<ScaleProgress> of(List<GlobalEntry> entries, SeriesStages stages) {
		record Key(int order, String scale, String item) {
		}
		var byItem = new LinkedHashMap<Key, List<GlobalEntry>>();
		entries.stream()
			.map((entry) -> new Key(order(entry), entry.scale(), entry.item()))
			.distinct()
			.sorted((one, other) -> (one.order() != other.order()) ? Integer.compare(one.order(), other.order())
					: (one.scale() + one.item()).compareTo(other.scale() + other.item()))
			.forEach((key) -> byItem.put(key,
					entries.stream()
						.filter((entry) -> entry.scale().equals(key.scale()) && entry.item().equals(key.item()))
						.toList()));
		return byItem.entrySet()
			.stream()
			.map((entry) -> new ScaleProgress(entry.getKey().scale(), entry.getKey().item(),
					StageValues.of(stages, entry.getValue(), GlobalEntry::assessedOn)))
			.filter((progress) -> !progress.values().isEmpty())
			.toList();
	}

	/**
	 * Scales that are known come first, in their own order and that of their items.
	 */
	private static int order(GlobalEntry entry) {
		var scale = GlobalScale.ofWord(entry.scale()).orElse(null);
		if (scale == null) {
			return Integer.MAX_VALUE;
		}
		var items = scale.items().stream().map(GlobalScale.Item::word).toList();
		var item = items.indexOf(entry.item());
		return 100 * scale.ordinal() + ((item < 0) ? 99 : item);
	}

	/** The scale, if it is one of those that are known. */
	public Optional<GlobalScale> known() {
		return GlobalScale.ofWord(this.scale);
	}

}
