package org.seriatim.screening;

import java.util.List;
import java.util.Optional;

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

	/** The number of the next item of the clinic's own. */
	public int nextOwn() {
		return (int) this.items.stream().filter(ListedItem::isOwn).count() + 1;
	}

}
