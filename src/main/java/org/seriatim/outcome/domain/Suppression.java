package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Which counts of a table are not shown outside the clinic, so that nobody is recognised
 * in a small number.
 * <p>
 * Counts from 1 to {@value #LARGEST_SMALL} are hidden; 0 and larger ones are shown. Where
 * sums would let a hidden count be computed from those that are shown, a further one is
 * hidden: the smallest part first, then a whole, a 0 last. The same for the rest of a
 * whole that is not in the table: 40 of 43 would tell of 3.
 * <ul>
 * <li>A count can be computed when all fillings of the hidden places with whole numbers,
 * at least 1 since a 0 is shown, have the same number there. That is searched for as a
 * second filling that differs by at most 1 in each place; one that differs by more is not
 * looked for, so that rather one count too many is hidden.</li>
 * <li>Figures that were made from a hidden count are for the table to hide.</li>
 * <li>It guards one set of counts. What two tables of overlapping periods tell by their
 * difference is not looked at.</li>
 * </ul>
 * <p>
 * Source: cell size suppression policy of the Centers for Medicare and Medicaid Services
 * (no cell from 1 to 10, nor any value from which one can be derived).
 */
public final class Suppression {

	/** Counts from 1 up to this one are small. */
	public static final int LARGEST_SMALL = 10;

	/** More steps of the search for a second filling than any real table needs. */
	private static final int MOST_STEPS = 20_000;

	/**
	 * @param published whether the table shows it at all
	 */
	private record Count(int value, boolean published) {
	}

	private record Sum(String whole, List<String> parts) {

		boolean has(String cell) {
			return this.whole.equals(cell) || this.parts.contains(cell);
		}

		/** All of them, the whole last. */
		List<String> cells() {
			var cells = new ArrayList<>(this.parts);
			cells.add(this.whole);
			return cells;
		}

	}

	private final Map<String, Count> counts = new LinkedHashMap<>();

	private final List<Sum> sums = new ArrayList<>();

	/** Whether a count on its own is small. */
	public static boolean isSmall(long count) {
		return count >= 1 && count <= LARGEST_SMALL;
	}

	/**
	 * A count of the table.
	 * @param cell its name; the same count in several places has one name
	 */
	public Suppression count(String cell, int value) {
		if (value < 0) {
			throw new IllegalArgumentException(cell + " must be at least 0, but is " + value);
		}
		var before = this.counts.put(cell, new Count(value, true));
		if (before != null && before.value() != value) {
			throw new IllegalArgumentException(cell + " was " + before.value() + " before, and is now " + value);
		}
		return this;
	}

	/** A whole and all of its parts. */
	public Suppression sum(String whole, List<String> parts) {
		long sum = parts.stream().mapToLong((part) -> value(part)).sum();
		if (sum != value(whole)) {
			throw new IllegalArgumentException(
					whole + " must be the sum of its parts " + sum + ", but is " + value(whole));
		}
		this.sums.add(new Sum(whole, List.copyOf(parts)));
		return this;
	}

	/** A whole and some of its parts: what is left of it is a count as well. */
	public Suppression partsOf(String whole, List<String> parts) {
		long rest = value(whole) - parts.stream().mapToLong((part) -> value(part)).sum();
		if (rest < 0) {
			throw new IllegalArgumentException(parts + " must not be more than " + whole);
		}
		var left = whole + " without " + String.join(", ", parts);
		this.counts.put(left, new Count((int) rest, false));
		var all = new ArrayList<>(parts);
		all.add(left);
		return sum(whole, all);
	}

	private int value(String cell) {
		var count = this.counts.get(cell);
		if (count == null) {
			throw new IllegalArgumentException("no count has the name " + cell);
		}
		return count.value();
	}

	/** The names of the counts that are not shown. */
	public Set<String> hidden() {
		var hidden = new LinkedHashSet<String>();
		this.counts.forEach((cell, count) -> {
			if (count.published() && isSmall(count.value())) {
				hidden.add(cell);
			}
		});
		for (var told = firstTold(hidden); told.isPresent(); told = firstTold(hidden)) {
			var further = further(told.get(), hidden);
			if (further.isEmpty()) {
				break;
			}
			hidden.add(further.get());
		}
		return hidden;
	}

	/** A hidden count, or a small one that is in no place, that the others tell. */
	private Optional<String> firstTold(Set<String> hidden) {
		return this.counts.entrySet()
			.stream()
			.filter((cell) -> hidden.contains(cell.getKey())
					|| !cell.getValue().published() && isSmall(cell.getValue().value()))
			.map(Map.Entry::getKey)
			.filter((cell) -> this.sums.stream().anyMatch((sum) -> sum.has(cell)))
			.filter((cell) -> !new Filling(hidden).canDiffer(cell))
			.findFirst();
	}

	/** What else to hide: beside the count itself if it can be, else anywhere near. */
	private Optional<String> further(String told, Set<String> hidden) {
		var near = new HashSet<String>(Set.of(told));
		var order = List.copyOf(this.counts.keySet());
		for (int before = 0; before < near.size();) {
			before = near.size();
			var choice = this.sums.stream()
				.filter((sum) -> sum.cells().stream().anyMatch(near::contains))
				.flatMap((sum) -> sum.cells()
					.stream()
					.filter((cell) -> isShown(cell, hidden))
					.map((cell) -> new Choice(cell, cell.equals(sum.whole()), value(cell))))
				.distinct()
				.min(Choice.ORDER.thenComparingInt((one) -> order.indexOf(one.cell())));
			if (choice.isPresent()) {
				return choice.map(Choice::cell);
			}
			this.sums.stream()
				.map(Sum::cells)
				.filter((cells) -> cells.stream().anyMatch(near::contains))
				.toList()
				.forEach(near::addAll);
		}
		return Optional.empty();
	}

	private record Choice(String cell, boolean whole, int value) {

		static final Comparator<Choice> ORDER = Comparator.comparing((Choice choice) -> choice.value() == 0)
			.thenComparing(Choice::whole);

	}

	private boolean isShown(String cell, Set<String> hidden) {
		var count = this.counts.get(cell);
		return count != null && count.published() && !hidden.contains(cell);
	}

	/** The search for a second filling of the hidden places. */
	private final class Filling {

		private final Set<String> hidden;

		private final Map<String, Integer> changes = new HashMap<>();

		private int steps;

		Filling(Set<String> hidden) {
			this.hidden = hidden;
		}

		boolean canDiffer(String cell) {
			return isOpen(cell) && (tries(cell, 1) || tries(cell, -1));
		}

		private boolean isOpen(String cell) {
			return !isShown(cell, this.hidden);
		}

		private boolean tries(String cell, int change) {
			if (this.steps++ > MOST_STEPS || this.changes.containsKey(cell) || !isPossible(cell, change)) {
				return false;
			}
			this.changes.put(cell, change);
			if (balances()) {
				return true;
			}
			this.changes.remove(cell);
			return false;
		}

		/** A place of the table would else have been treated in another way. */
		private boolean isPossible(String cell, int change) {
			int value = value(cell);
			var count = Suppression.this.counts.get(cell);
			if (count == null || !count.published() || value == 0) {
				return value + change >= 0;
			}
			return value + change >= 1 && isSmall(value) == isSmall(value + change);
		}

		/** Whether the changes so far can be completed to a filling. */
		private boolean balances() {
			for (var sum : Suppression.this.sums) {
				int excess = sum.parts().stream().mapToInt(this::change).sum() - change(sum.whole());
				if (excess != 0) {
					for (var part : sum.parts()) {
						if (isOpen(part) && tries(part, -Integer.signum(excess))) {
							return true;
						}
					}
					return isOpen(sum.whole()) && tries(sum.whole(), Integer.signum(excess));
				}
			}
			return true;
		}

		private int change(String cell) {
			return this.changes.getOrDefault(cell, 0);
		}

	}

}
