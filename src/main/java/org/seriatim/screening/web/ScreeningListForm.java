package org.seriatim.screening.web;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.screening.ListedItem;
import org.seriatim.screening.ScreeningItem.Asked;
import org.seriatim.screening.ScreeningItem.Level;
import org.seriatim.screening.ScreeningList;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;
import org.seriatim.shell.ShownVersion;
import org.springframework.validation.BindingResult;

/**
 * The clinic's list as it is typed, a row at the place of each item. A row that a request
 * leaves out leaves its item as it is, so that none gets lost by an old page.
 *
 * @param basedOn number of the version that the form started from
 * @param reason why it is published
 */
record ScreeningListForm(@ShownVersion @NotNull @Nullable Integer basedOn, @Valid List<@Valid ItemRow> items,
		@NotBlank @Size(max = 400) @Nullable String reason) {

	private static final String MISSING = "jakarta.validation.constraints.NotBlank.message";

	ScreeningListForm {
		var rows = new ArrayList<>(Collections.nCopies(ListedItem.PLACES, ItemRow.absent()));
		Stream.ofNullable(items)
			.flatMap(List::stream)
			.filter((row) -> row != null && row.place() >= 0)
			.forEach((row) -> rows.set(row.place(), row));
		items = List.copyOf(rows);
	}

	/**
	 * An item.
	 *
	 * @param item what it is called in the records; none for a place without an item
	 * @param level of the clinic's own items alone
	 * @param asked likewise
	 * @param switchedOff why it is not asked any more; empty while it is
	 */
	record ItemRow(@RowKey @Nullable String item, @Size(max = 300) @Nullable String question,
			@Decimal(min = "1", max = "365") @Nullable String validDays, @Nullable Level level, @Nullable Asked asked,
			@Size(max = 400) @Nullable String switchedOff) {

		static ItemRow absent() {
			return new ItemRow(null, null, null, null, null, null);
		}

		static ItemRow from(ListedItem item) {
			return new ItemRow(item.word(), item.question(), DecimalText.of(item.validDays()), item.level(),
					item.asked(), item.switchedOff());
		}

		private int place() {
			return ListedItem.place(this.item);
		}

		private boolean isBlank() {
			return isBlank(this.question) && isBlank(this.validDays) && this.level == null && this.asked == null
					&& isBlank(this.switchedOff);
		}

		private static boolean isBlank(@Nullable String typed) {
			return typed == null || typed.isBlank();
		}

		private int days() {
			return Objects.requireNonNull(DecimalText.whole(this.validDays));
		}

		private @Nullable String off() {
			return isBlank(this.switchedOff) ? null : Objects.requireNonNull(this.switchedOff).strip();
		}

		private String wording() {
			return Objects.requireNonNull(this.question).strip();
		}

		private ListedItem asOwn() {
			return new ListedItem(Objects.requireNonNull(this.item), wording(), Objects.requireNonNull(this.level),
					days(), Objects.requireNonNull(this.asked), off());
		}

		/** The item as this row changes it. */
		private ListedItem changed(ListedItem before) {
			if (this.item == null) {
				return before;
			}
			if (before.isOwn()) {
				return asOwn();
			}
			return before.isFixed()
					? new ListedItem(before.word(), before.question(), before.level(), days(), before.asked(),
							before.switchedOff())
					: new ListedItem(before.word(), wording(), before.level(), days(), before.asked(), off());
		}

	}

	static ScreeningListForm from(ScreeningList list) {
		return new ScreeningListForm(list.number(), list.items().stream().map(ItemRow::from).toList(), null);
	}

	/** Says beside each field what is missing there. */
	void check(ScreeningList current, BindingResult errors) {
		for (int at = 0; at < this.items.size(); at++) {
			var row = this.items.get(at);
			var before = current.item(String.valueOf(row.item())).orElse(null);
			if (row.item() == null || before == null && row.isBlank()) {
				continue;
			}
			require(row.validDays(), at, "validDays", errors);
			if (before == null || !before.isFixed()) {
				require(row.question(), at, "question", errors);
			}
			if (before == null || before.isOwn()) {
				require((row.level() != null) ? "given" : null, at, "level", errors);
				require((row.asked() != null) ? "given" : null, at, "asked", errors);
			}
		}
	}

	private static void require(@Nullable String typed, int at, String field, BindingResult errors) {
		var path = "items[" + at + "]." + field;
		if (ItemRow.isBlank(typed) && !errors.hasFieldErrors(path)) {
			errors.rejectValue(path, MISSING);
		}
	}

	/** What a form without faults describes. */
	ScreeningList toList(ScreeningList current) {
		var all = new ArrayList<ListedItem>();
		current.items().forEach((item) -> all.add(this.items.get(item.place()).changed(item)));
		this.items.stream()
			.filter((row) -> row.item() != null && !row.isBlank() && current.item(row.item()).isEmpty())
			.map(ItemRow::asOwn)
			.forEach(all::add);
		return new ScreeningList(Objects.requireNonNull(this.basedOn), all);
	}

}
