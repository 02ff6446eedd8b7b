package org.seriatim.screening;

import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * A version of what the clinic asks before a session.
 *
 * @param items in the order in which they are asked, those that are switched off too
 */
public record ScreeningList(int number, List<ListedItem> items) {

	public ScreeningList {
		items = List.copyOf(items);
	}

	public Optional<ListedItem> item(String word) {
		return this.items.stream().filter((item) -> item.word().equals(word)).findFirst();
	}

	/** What further items of the clinic's own can be called, in order. */
	public List<String> unused() {
		return IntStream.rangeClosed(1, ListedItem.OWN_AT_MOST)
			.mapToObj(ListedItem::own)
			.filter((word) -> item(word).isEmpty())
			.toList();
	}

}
