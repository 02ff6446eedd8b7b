package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.IntStream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

import static org.assertj.core.api.Assertions.assertThat;

class SuppressionTests {

	/**
	 * C125 to C128: cell size suppression policy of the Centers for Medicare and Medicaid
	 * Services: no cell from 1 to 10 is shown; 0 may be.
	 */
	@ParameterizedTest
	@CsvSource({ "0,false", "1,true", "10,true", "11,false" })
	void hidesOneToTen(int count, boolean hidden) {
		assertThat(new Suppression().count("cell", count).hidden().contains("cell")).isEqualTo(hidden);
	}

	/** C129: of the same policy, no value may be derivable. */
	@Test
	void hidesASecondCountThatWouldTellTheFirst() {
		assertThat(table(new int[] { 3, 40 })).containsExactlyInAnyOrder("0", "1");
	}

	@Test
	void hidesWhatWouldTellOfASmallRest() {
		var counts = new Suppression().count("sessions", 43).count("with", 40);
		assertThat(counts.partsOf("sessions", List.of("with")).hidden()).containsExactly("with");
	}

	@Test
	void showsAllWhereTheRestIsNothingOrLarge() {
		var counts = new Suppression().count("sessions", 43).count("all", 43).count("some", 20);
		assertThat(counts.partsOf("sessions", List.of("all")).partsOf("sessions", List.of("some")).hidden()).isEmpty();
	}

	/** Two hidden parts that sum to 2 are 1 and 1, since a 0 would be shown. */
	@Test
	void twoSingleCasesNeedAThirdHidden() {
		assertThat(table(new int[] { 1, 1, 40, 30 })).containsExactlyInAnyOrder("0", "1", "2");
	}

	/**
	 * Every table of two or three parts with counts from 0 to 14: whoever knows the rule
	 * and looks at all tables that would have been shown in the same way finds at least
	 * two numbers in every hidden place. (Some of these have counts beyond 14.)
	 */
	@ParameterizedTest
	@ValueSource(ints = { 2, 3 })
	void noHiddenPartCanBeComputedNotEvenByWhoKnowsTheRule(int size) {
		Map<String, List<int[]>> byWhatIsShown = new HashMap<>();
		for (int[] parts : tuples(size, 17)) {
			var hidden = table(parts);
			var shown = new ArrayList<String>();
			for (int i = 0; i < size; i++) {
				shown.add(hidden.contains("" + i) ? "?" : "" + parts[i]);
			}
			shown.add(hidden.contains("whole") ? "?" : "" + IntStream.of(parts).sum());
			byWhatIsShown.computeIfAbsent(shown.toString(), (key) -> new ArrayList<>()).add(parts);
		}
		byWhatIsShown.forEach((shown, tables) -> {
			if (tables.stream().noneMatch((parts) -> IntStream.of(parts).max().orElseThrow() <= 14)) {
				return;
			}
			var hidden = table(tables.get(0));
			for (int i = 0; i < size; i++) {
				int place = i;
				if (hidden.contains("" + i)) {
					assertThat(tables.stream().map((parts) -> parts[place]).distinct().count()).as(shown)
						.isGreaterThan(1);
				}
			}
			if (hidden.contains("whole")) {
				assertThat(tables.stream().map((parts) -> IntStream.of(parts).sum()).distinct().count()).as(shown)
					.isGreaterThan(1);
			}
		});
	}

	/**
	 * Two rows and two columns with all their sums: fillings of the hidden places with
	 * whole numbers that keep what is shown are tried, and each hidden place has at least
	 * two of them; small and large counts in turn.
	 */
	@Test
	void noHiddenPlaceOfATableWithRowsAndColumnsCanBeComputed() {
		int[] tried = { 0, 1, 2, 5, 10, 11, 12, 15 };
		for (int a : tried) {
			for (int b : tried) {
				for (int c : tried) {
					for (int d : tried) {
						checkTwoByTwo(new int[] { a, b, c, d });
					}
				}
			}
		}
	}

	/**
	 * Sessions without and with a finding of one kind, in a quarter and in a period that
	 * reaches over its end, as two reports each with the rule kept: in some of these
	 * tables the difference tells a number that both hide. So a quarter is issued once,
	 * and no other period is; what was issued then tells no more than one table does.
	 */
	@Test
	void reportsOfOverlappingPeriodsTellMoreThanOneReportOfEach() {
		var once = told(List.of(new int[] { 0, 0 }));
		var overlapping = told(
				List.of(new int[] { 0, 0 }, new int[] { 1, 0 }, new int[] { 12, 0 }, new int[] { 12, 1 }));
		assertThat(once).isZero();
		assertThat(overlapping).isPositive();
	}

	/**
	 * In how many small tables somebody who is given the report of the table and of the
	 * same table with known sessions more can compute a hidden number.
	 */
	private static int told(List<int[]> more) {
		Map<String, Set<List<Integer>>> byWhatIsShown = new HashMap<>();
		for (int[] parts : tuples(2, 25)) {
			var shown = new StringBuilder();
			for (int[] added : more) {
				shown.append(shown(new int[] { parts[0] + added[0], parts[1] + added[1] }));
			}
			byWhatIsShown.computeIfAbsent(shown.toString(), (key) -> new HashSet<>()).add(List.of(parts[0], parts[1]));
		}
		int told = 0;
		for (int[] parts : tuples(2, 14)) {
			var shown = new StringBuilder();
			for (int[] added : more) {
				shown.append(shown(new int[] { parts[0] + added[0], parts[1] + added[1] }));
			}
			var possible = byWhatIsShown.get(shown.toString());
			var hidden = table(parts);
			for (int i = 0; i < 2; i++) {
				int place = i;
				if (hidden.contains("" + i) && possible.stream().map((one) -> one.get(place)).distinct().count() == 1) {
					told++;
				}
			}
		}
		return told;
	}

	private static String shown(int[] parts) {
		var hidden = table(parts);
		return (hidden.contains("0") ? "?" : "" + parts[0]) + " " + (hidden.contains("1") ? "?" : "" + parts[1]) + " "
				+ (hidden.contains("whole") ? "?" : "" + IntStream.of(parts).sum()) + "; ";
	}

	private static final List<String> PLACES = List.of("a", "b", "c", "d", "row 1", "row 2", "column 1", "column 2",
			"all");

	private static int[] withSums(int[] t) {
		return new int[] { t[0], t[1], t[2], t[3], t[0] + t[1], t[2] + t[3], t[0] + t[2], t[1] + t[3],
				t[0] + t[1] + t[2] + t[3] };
	}

	private static void checkTwoByTwo(int[] parts) {
		int[] all = withSums(parts);
		var counts = new Suppression();
		for (int i = 0; i < all.length; i++) {
			counts.count(PLACES.get(i), all[i]);
		}
		var hidden = counts.sum("row 1", List.of("a", "b"))
			.sum("row 2", List.of("c", "d"))
			.sum("column 1", List.of("a", "c"))
			.sum("column 2", List.of("b", "d"))
			.sum("all", List.of("row 1", "row 2"))
			.sum("all", List.of("column 1", "column 2"))
			.hidden();
		if (hidden.isEmpty()) {
			return;
		}
		var found = new HashMap<String, Set<Integer>>();
		for (int[] other : tuples(parts, hidden)) {
			int[] filled = withSums(other);
			if (IntStream.range(0, filled.length)
				.allMatch((i) -> hidden.contains(PLACES.get(i)) ? filled[i] >= Math.min(1, all[i])
						: filled[i] == all[i])) {
				for (int i = 0; i < filled.length; i++) {
					found.computeIfAbsent(PLACES.get(i), (place) -> new HashSet<>()).add(filled[i]);
				}
			}
		}
		for (var place : hidden) {
			assertThat(found.get(place))
				.as(place + " of " + IntStream.of(parts).boxed().toList() + ", hidden " + hidden)
				.hasSizeGreaterThan(1);
		}
	}

	/**
	 * The inner places: those that are shown as they are, the hidden ones with every
	 * number up to 3 away, since a second filling is all that is asked for.
	 */
	private static List<int[]> tuples(int[] parts, Set<String> hidden) {
		List<int[]> all = new ArrayList<>(List.of(new int[0]));
		for (int place = 0; place < parts.length; place++) {
			int[] values = hidden.contains(PLACES.get(place))
					? IntStream.rangeClosed(Math.max(0, parts[place] - 3), parts[place] + 3).toArray()
					: new int[] { parts[place] };
			List<int[]> longer = new ArrayList<>();
			for (int[] one : all) {
				for (int value : values) {
					longer.add(IntStream.concat(IntStream.of(one), IntStream.of(value)).toArray());
				}
			}
			all = longer;
		}
		return all;
	}

	private static List<int[]> tuples(int size, int most) {
		List<int[]> all = new ArrayList<>(List.of(new int[0]));
		for (int place = 0; place < size; place++) {
			List<int[]> longer = new ArrayList<>();
			for (int[] one : all) {
				for (int value = 0; value <= most; value++) {
					longer.add(IntStream.concat(IntStream.of(one), IntStream.of(value)).toArray());
				}
			}
			all = longer;
		}
		return all;
	}

	private static Set<String> table(int[] parts) {
		var counts = new Suppression();
		var names = new ArrayList<String>();
		for (int i = 0; i < parts.length; i++) {
			counts.count("" + i, parts[i]);
			names.add("" + i);
		}
		return counts.count("whole", IntStream.of(parts).sum()).sum("whole", names).hidden();
	}

}
