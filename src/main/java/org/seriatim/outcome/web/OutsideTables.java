package org.seriatim.outcome.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.Suppression;

/**
 * Tables as they may leave the clinic: all of them guarded together, since one count may
 * stand in several of them. What was made from a hidden count is hidden with it.
 */
final class OutsideTables {

	/** What stands in a hidden place, on the page and in the file. */
	static final String HIDDEN = "suppressed";

	private final Suppression counts = new Suppression();

	private final Map<String, Integer> known = new HashMap<>();

	private final List<Guarded> tables = new ArrayList<>();

	/**
	 * @param subject tables of one subject share the counts that have the same names
	 * @param left columns that the table leaves out
	 */
	Guarded guard(Figures figures, String subject, String... left) {
		var guarded = new Guarded(without(figures, Set.of(left)), subject);
		this.tables.add(guarded);
		return guarded;
	}

	/** The tables in the order in which they came, with their hidden places. */
	List<Figures> shown() {
		var hidden = this.counts.hidden();
		return this.tables.stream().map((table) -> table.shown(hidden)).toList();
	}

	private static Figures without(Figures figures, Set<String> left) {
		var kept = new ArrayList<Integer>();
		for (int i = 0; i < figures.columns().size(); i++) {
			if (!left.contains(figures.columns().get(i).word())) {
				kept.add(i);
			}
		}
		return new Figures(figures.word(), figures.caption(), kept.stream().map(figures.columns()::get).toList(),
				figures.rows().stream().map((row) -> kept.stream().map(row::get).toList()).toList());
	}

	/** The same count under its name, another one under a name of its own. */
	private String register(String name, int value) {
		var key = name;
		while (this.known.getOrDefault(key, value) != value) {
			key += "'";
		}
		this.known.put(key, value);
		this.counts.count(key, value);
		return key;
	}

	/** One table, with what its columns are to each other. */
	final class Guarded {

		private final Figures figures;

		private final String subject;

		/** Names of counts by row and column; a place may rest on several. */
		private final List<Map<String, Set<String>>> restsOn = new ArrayList<>();

		/** Names of the counts that stand in the table, by row and column. */
		private final List<Map<String, String>> named = new ArrayList<>();

		private Guarded(Figures figures, String subject) {
			this.figures = figures;
			this.subject = subject;
			figures.rows().forEach((row) -> {
				this.restsOn.add(new HashMap<>());
				this.named.add(new HashMap<>());
			});
		}

		/**
		 * Columns of counts.
		 * @param naming how many of the first columns say what is counted
		 */
		Guarded counts(int naming, String... columns) {
			eachRow((row) -> {
				for (String column : columns) {
					if (value(row, column) instanceof Number number) {
						name(row, column, naming, number.intValue());
					}
				}
			});
			return this;
		}

		/** A column of counts and those of all its parts. */
		Guarded whole(String whole, String... parts) {
			eachRow((row) -> relate(row, whole, List.of(parts), true));
			return this;
		}

		/** A column of counts and those of some parts. */
		Guarded parts(String whole, String... parts) {
			eachRow((row) -> relate(row, whole, List.of(parts), false));
			return this;
		}

		/** Shares that add up to a whole: each of them tells a count. */
		Guarded shares(int naming, String whole, List<String> shares) {
			eachRow((row) -> {
				if (value(row, whole) instanceof Number size) {
					for (String share : shares) {
						if (value(row, share) instanceof Number number) {
							name(row, share, naming, (int) Math.round(number.doubleValue() * size.doubleValue()));
						}
					}
					relate(row, whole, shares, true);
				}
			});
			return from(List.of(whole), shares.toArray(String[]::new));
		}

		/** Figures that are made from counts. */
		Guarded from(List<String> counts, String... figures) {
			eachRow((row) -> {
				for (String figure : figures) {
					for (String count : counts) {
						var name = this.named.get(row).get(count);
						if (name != null) {
							rests(row, figure, name);
						}
					}
				}
			});
			return this;
		}

		/** Estimated shares of a whole, which tell about how many that is. */
		Guarded estimatedShares(String whole, String... shares) {
			eachRow((row) -> {
				if (value(row, whole) instanceof Number size) {
					for (String share : shares) {
						if (value(row, share) instanceof Number number) {
							long about = Math.round(number.doubleValue() * size.doubleValue());
							if (Suppression.isSmall(about) || Suppression.isSmall(size.longValue() - about)) {
								rests(row, share, ALWAYS);
							}
						}
					}
				}
			});
			return from(List.of(whole), shares);
		}

		private static final String ALWAYS = "always";

		private void eachRow(java.util.function.IntConsumer action) {
			for (int row = 0; row < this.figures.rows().size(); row++) {
				action.accept(row);
			}
		}

		private @Nullable Object value(int row, String column) {
			return this.figures.rows().get(row).get(index(column)).value();
		}

		private int index(String column) {
			for (int i = 0; i < this.figures.columns().size(); i++) {
				if (this.figures.columns().get(i).word().equals(column)) {
					return i;
				}
			}
			throw new IllegalArgumentException(this.figures.word() + " has no column " + column);
		}

		private void name(int row, String column, int naming, int value) {
			var name = new StringBuilder(this.subject);
			for (int i = 0; i < naming; i++) {
				name.append('/').append(this.figures.rows().get(row).get(i).value());
			}
			var key = register(name.append('/').append(column).toString(), value);
			this.named.get(row).put(column, key);
			rests(row, column, key);
		}

		private void rests(int row, String column, String count) {
			this.restsOn.get(row).computeIfAbsent(column, (key) -> new HashSet<>()).add(count);
		}

		private void relate(int row, String whole, List<String> parts, boolean all) {
			var names = this.named.get(row);
			var known = parts.stream().filter(names::containsKey).map(names::get).distinct().toList();
			var wholeName = names.get(whole);
			if (wholeName == null || known.isEmpty()) {
				return;
			}
			if (all && known.size() == parts.size()) {
				OutsideTables.this.counts.sum(wholeName, known);
			}
			else {
				OutsideTables.this.counts.partsOf(wholeName, known);
			}
		}

		private Figures shown(Set<String> hidden) {
			var rows = new ArrayList<List<Figures.Cell>>();
			eachRow((row) -> {
				var cells = new ArrayList<>(this.figures.rows().get(row));
				this.restsOn.get(row).forEach((column, counts) -> {
					int place = index(column);
					if (cells.get(place).value() != null
							&& counts.stream().anyMatch((count) -> count.equals(ALWAYS) || hidden.contains(count))) {
						hide(cells, place);
					}
				});
				rows.add(List.copyOf(cells));
			});
			return new Figures(this.figures.word(), this.figures.caption(), this.figures.columns(), List.copyOf(rows));
		}

		/** Of two limits both, since a page writes them in one place. */
		private void hide(List<Figures.Cell> cells, int place) {
			var part = this.figures.columns().get(place).part();
			int[] places = (part == Figures.Part.LOW) ? new int[] { place, place + 1 }
					: (part == Figures.Part.HIGH) ? new int[] { place - 1, place } : new int[] { place };
			Arrays.stream(places).forEach((one) -> cells.set(one, new Figures.Cell(HIDDEN, null, null)));
		}

	}

}
