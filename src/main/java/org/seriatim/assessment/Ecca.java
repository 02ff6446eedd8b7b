package org.seriatim.assessment;

import java.util.EnumMap;
import java.util.Map;

/**
 * The ECCA score of a face: clinical evaluation of acne scars by counts, from 0 to 540 in
 * steps of 5; lower is better.
 * <p>
 * \( total = \sum_i w_i c_i \), with \(w_i\) the weight of item \(i\) and \(c_i\) the
 * class of its count: 0 scars are class 0, 1 to 4 class 1, 5 to 20 class 2, 21 and more
 * class 3. The subscores, each from 0 to 270, are the sums over the atrophic and over the
 * raised items.
 * <p>
 * The class is coarse: 12 scars that become 6 stay in class 2, so a small improvement
 * does not show.
 * <p>
 * Source: Dreno B, Khammari A, Orain N, et al., Dermatology 2007;214:46–51. Weights,
 * classes and range were written down from memory of that paper and are only consistent
 * with themselves; whoever shows a score says so.
 *
 * @param counts the number of scars of each item on the face, at least 0
 */
public record Ecca(Map<Item, Integer> counts) {

	/** Largest total. */
	public static final int WORST = 540;

	/** What is scored. */
	public enum Item {

		/** Atrophic, V-shaped, punctiform, under 2 mm. */
		V(15, CountedType.ICE_PICK),

		/** Atrophic, U-shaped with steep edges, 2 to 4 mm. */
		U(20, CountedType.BOXCAR),

		/** Atrophic, M-shaped, of irregular surface, over 4 mm. */
		M(25, CountedType.ROLLING),

		/** Superficial elastolysis. */
		E(30, CountedType.ELASTOLYSIS),

		/** Hypertrophic and inflammatory, under two years old. */
		H(40, CountedType.HYPERTROPHIC),

		/** Keloid, or hypertrophic for over two years. */
		K(50, CountedType.KELOID);

		private final int weight;

		private final CountedType type;

		Item(int weight, CountedType type) {
			this.weight = weight;
			this.type = type;
		}

		public int weight() {
			return this.weight;
		}

		/** The type under which its scars are counted. */
		public CountedType type() {
			return this.type;
		}

		/** Whether it belongs to the raised half of the score. */
		public boolean isRaised() {
			return this == H || this == K;
		}

	}

	public Ecca {
		for (Item item : Item.values()) {
			Integer count = counts.get(item);
			if (count == null || count < 0) {
				throw new IllegalArgumentException("count of " + item + " must be at least 0, was " + count);
			}
		}
		counts = Map.copyOf(new EnumMap<>(counts));
	}

	/** The class of a count, from 0 to 3. */
	public static int countClass(int count) {
		if (count < 0) {
			throw new IllegalArgumentException("count must be at least 0, was " + count);
		}
		if (count == 0) {
			return 0;
		}
		if (count <= 4) {
			return 1;
		}
		return (count <= 20) ? 2 : 3;
	}

	/** Subscore of the atrophic items, 0 to 270. */
	public int atrophic() {
		return sum(false);
	}

	/** Subscore of the raised items, 0 to 270. */
	public int raised() {
		return sum(true);
	}

	/** The score, 0 to 540. */
	public int total() {
		return atrophic() + raised();
	}

	private int sum(boolean raised) {
		return this.counts.entrySet()
			.stream()
			.filter((entry) -> entry.getKey().isRaised() == raised)
			.mapToInt((entry) -> entry.getKey().weight() * countClass(entry.getValue()))
			.sum();
	}

}
