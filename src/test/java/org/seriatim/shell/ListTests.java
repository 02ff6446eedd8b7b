package org.seriatim.shell;

import java.util.List;
import java.util.Set;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

class ListTests {

	private static final Sorting FIRST_DAY = new Sorting("first-day", false);

	@Test
	void sortsByTheOrderOfTheAddressIfThereIsSuchAColumn() {
		var keys = Set.of("first-day", "last-day");
		assertThat(Sorting.of("-last-day", keys, FIRST_DAY)).isEqualTo(new Sorting("last-day", true));
		assertThat(Sorting.of("last-day; drop table", keys, FIRST_DAY)).isEqualTo(FIRST_DAY);
		assertThat(Sorting.of(null, keys, FIRST_DAY)).isEqualTo(FIRST_DAY);
	}

	@Test
	void turnsTheOrderRoundAtTheSecondPress() {
		assertThat(FIRST_DAY.next("last-day")).isEqualTo("last-day");
		assertThat(FIRST_DAY.next("first-day")).isEqualTo("-first-day");
		assertThat(new Sorting("first-day", true).next("first-day")).isEqualTo("first-day");
	}

	@Test
	void tellsAssistiveTechnologyTheOrder() {
		assertThat(FIRST_DAY.aria("first-day")).isEqualTo("ascending");
		assertThat(FIRST_DAY.aria("last-day")).isEqualTo("none");
	}

	@Test
	void countsTheRowsOfThePartThatIsShown() {
		var last = new Paged<>(List.of("g", "h"), 3, 3, 8);
		assertThat(last.firstRow()).isEqualTo(7);
		assertThat(last.lastRow()).isEqualTo(8);
		assertThat(last.pages()).isEqualTo(3);
		assertThat(last.hasNext()).isFalse();
		assertThat(last.hasPrevious()).isTrue();
	}

	@Test
	void hasOnePageEvenWhenItIsEmpty() {
		var empty = new Paged<>(List.of(), 1, 25, 0);
		assertThat(empty.pages()).isOne();
		assertThat(empty.firstRow()).isZero();
		assertThat(empty.lastRow()).isZero();
	}

	@Test
	void refusesAPageBeforeTheFirst() {
		assertThatIllegalArgumentException().isThrownBy(() -> new Paged<>(List.of(), 0, 25, 0));
	}

}
