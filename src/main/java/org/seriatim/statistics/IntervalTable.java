package org.seriatim.statistics;

import java.util.Arrays;
import java.util.List;

/**
 * Distinct duration intervals with their weights, and the boundaries of all of them in
 * one order.
 * <p>
 * A boundary is a value together with its kind; at equal values the order is
 * <em>closed-left, closed-right, open-left</em>, so that (1, 2] and (2, 5] do not overlap
 * and an exact 5 lies inside (0, 5] but not inside (5, 8]. The rank of a boundary is
 * {@code 3 * index of the value + kind}; all later work is on ranks.
 */
final class IntervalTable {

	static final int CLOSED_LEFT = 0;

	static final int CLOSED_RIGHT = 1;

	static final int OPEN_LEFT = 2;

	/**
	 * Up to this many values a table of all pairs may be counted in, if it is not much
	 * larger than the data.
	 */
	private static final int DENSE_LIMIT = 2048;

	private static final int CELLS_PER_OBSERVATION = 16;

	private static final int SMALL_TABLE = 1 << 14;

	/**
	 * Whole numbers below this are looked up in a table instead of being sorted.
	 */
	private static final int WHOLE_LIMIT = 1 << 16;

	private final double[] values;

	private final int[] leftRank;

	private final int[] rightRank;

	private final int[] rowOfObservation;

	private final double[] weight;

	private final long total;

	private IntervalTable(double[] values, int[] leftRank, int[] rightRank, int[] rowOfObservation, double[] weight,
			long total) {
		this.values = values;
		this.leftRank = leftRank;
		this.rightRank = rightRank;
		this.rowOfObservation = rowOfObservation;
		this.weight = weight;
		this.total = total;
	}

	static IntervalTable of(List<DurationInterval> observations) {
		int n = observations.size();
		double[] left = new double[n];
		double[] right = new double[n];
		int[] count = new int[n];
		int i = 0;
		for (DurationInterval observation : observations) {
			left[i] = observation.left();
			right[i] = observation.right();
			count[i] = observation.count();
			i++;
		}
		return of(left, right, count);
	}

	/**
	 * The same table without knowing which observation went into which row, which for
	 * whole numbers needs no more than counting pairs.
	 */
	static IntervalTable merged(List<DurationInterval> observations) {
		int largest = largestWhole(observations);
		return (largest >= 0 && isDense(largest + 2, observations.size())) ? countPairs(observations, largest)
				: of(observations);
	}

	private static boolean isDense(int values, int observations) {
		return values <= DENSE_LIMIT
				&& values * values <= Math.max(SMALL_TABLE, CELLS_PER_OBSERVATION * (long) observations);
	}

	/**
	 * The largest finite end when all are whole numbers and few enough for a table of all
	 * pairs, else -1.
	 */
	private static int largestWhole(List<DurationInterval> observations) {
		int largest = 0;
		for (DurationInterval observation : observations) {
			double left = observation.left();
			double right = observation.right();
			int from = (int) left;
			int to = (right == Double.POSITIVE_INFINITY) ? from : (int) right;
			if (from != left || (to != right && right != Double.POSITIVE_INFINITY) || to >= DENSE_LIMIT) {
				return -1;
			}
			largest = Math.max(largest, to);
		}
		return largest;
	}

	private static IntervalTable countPairs(List<DurationInterval> observations, int largest) {
		// the last column stands for infinity; equal ends are an exact time; a total that
		// does not fit into an int is refused by those who ask for it
		int infinity = largest + 1;
		int width = largest + 2;
		int[] pairs = new int[width * width];
		long total = 0;
		for (DurationInterval observation : observations) {
			double right = observation.right();
			int to = (right == Double.POSITIVE_INFINITY) ? infinity : (int) right;
			pairs[(int) observation.left() * width + to] += observation.count();
			total += observation.count();
		}
		boolean[] used = new boolean[width];
		int rows = 0;
		for (int from = 0; from <= largest; from++) {
			for (int to = from; to < width; to++) {
				if (pairs[from * width + to] != 0) {
					used[from] = true;
					used[to] = true;
					rows++;
				}
			}
		}
		double[] values = new double[width];
		int[] position = new int[width];
		int found = 0;
		for (int v = 0; v < width; v++) {
			if (used[v]) {
				values[found] = (v == infinity) ? Double.POSITIVE_INFINITY : v;
				position[v] = found++;
			}
		}
		int[] leftRank = new int[rows];
		int[] rightRank = new int[rows];
		double[] weight = new double[rows];
		int row = 0;
		for (int from = 0; from <= largest; from++) {
			for (int to = from; to < width; to++) {
				int count = pairs[from * width + to];
				if (count != 0) {
					leftRank[row] = 3 * position[from] + ((from == to) ? CLOSED_LEFT : OPEN_LEFT);
					rightRank[row] = 3 * position[to] + CLOSED_RIGHT;
					weight[row++] = count;
				}
			}
		}
		return new IntervalTable(Arrays.copyOf(values, found), leftRank, rightRank, new int[0], weight, total);
	}

	static IntervalTable of(double[] left, double[] right, int[] count) {
		int n = left.length;
		int[] leftIndex = new int[n];
		int[] rightIndex = new int[n];
		double[] values = index(left, right, leftIndex, rightIndex);
		long[] keys = new long[n];
		long total = 0;
		for (int i = 0; i < n; i++) {
			int leftRank = 3 * leftIndex[i] + ((left[i] == right[i]) ? CLOSED_LEFT : OPEN_LEFT);
			keys[i] = ((long) leftRank << 32) | (3L * rightIndex[i] + CLOSED_RIGHT);
			total += count[i];
		}
		int[] row = new int[n];
		long[] distinct = isDense(values.length, n) ? distinctByTable(keys, row, values.length)
				: distinctBySorting(keys, row);
		int rows = distinct.length;
		int[] leftRank = new int[rows];
		int[] rightRank = new int[rows];
		double[] weight = new double[rows];
		for (int r = 0; r < rows; r++) {
			leftRank[r] = (int) (distinct[r] >>> 32);
			rightRank[r] = (int) distinct[r];
		}
		for (int i = 0; i < n; i++) {
			weight[row[i]] += count[i];
		}
		return new IntervalTable(values, leftRank, rightRank, row, weight, total);
	}

	/**
	 * Finds the distinct values in ascending order and the index of each end among them.
	 */
	private static double[] index(double[] left, double[] right, int[] leftIndex, int[] rightIndex) {
		int n = left.length;
		int largest = -1;
		boolean whole = true;
		for (int i = 0; i < n && whole; i++) {
			int l = (int) left[i];
			whole = (l == left[i]) && l < WHOLE_LIMIT;
			largest = Math.max(largest, l);
			if (right[i] != Double.POSITIVE_INFINITY) {
				int r = (int) right[i];
				whole &= (r == right[i]) && r < WHOLE_LIMIT;
				largest = Math.max(largest, r);
			}
		}
		return whole ? indexWhole(left, right, leftIndex, rightIndex, largest)
				: indexSorted(left, right, leftIndex, rightIndex);
	}

	private static double[] indexWhole(double[] left, double[] right, int[] leftIndex, int[] rightIndex, int largest) {
		int n = left.length;
		int infinity = largest + 1;
		int[] position = new int[largest + 2];
		for (int i = 0; i < n; i++) {
			position[(int) left[i]] = 1;
			position[(right[i] == Double.POSITIVE_INFINITY) ? infinity : (int) right[i]] = 1;
		}
		double[] values = new double[position.length];
		int found = 0;
		for (int v = 0; v < position.length; v++) {
			if (position[v] != 0) {
				values[found] = (v == infinity) ? Double.POSITIVE_INFINITY : v;
				position[v] = found++;
			}
		}
		for (int i = 0; i < n; i++) {
			leftIndex[i] = position[(int) left[i]];
			rightIndex[i] = position[(right[i] == Double.POSITIVE_INFINITY) ? infinity : (int) right[i]];
		}
		return Arrays.copyOf(values, found);
	}

	private static double[] indexSorted(double[] left, double[] right, int[] leftIndex, int[] rightIndex) {
		int n = left.length;
		double[] sorted = Arrays.copyOf(left, 2 * n);
		System.arraycopy(right, 0, sorted, n, n);
		Arrays.parallelSort(sorted);
		int found = 0;
		for (int i = 0; i < sorted.length; i++) {
			if (found == 0 || sorted[i] != sorted[found - 1]) {
				sorted[found++] = sorted[i];
			}
		}
		double[] values = Arrays.copyOf(sorted, found);
		for (int i = 0; i < n; i++) {
			leftIndex[i] = Arrays.binarySearch(values, left[i]);
			rightIndex[i] = Arrays.binarySearch(values, right[i]);
		}
		return values;
	}

	private static long[] distinctByTable(long[] keys, int[] row, int values) {
		// a left end is exact or open, so two rows of the table for each value
		int[] rowOfPair = new int[2 * values * values];
		long[] distinct = new long[Math.min(keys.length, rowOfPair.length)];
		int found = 0;
		for (int i = 0; i < keys.length; i++) {
			int leftRank = (int) (keys[i] >>> 32);
			int rightRank = (int) keys[i];
			int pair = (2 * (leftRank / 3) + ((leftRank % 3 == CLOSED_LEFT) ? 0 : 1)) * values + rightRank / 3;
			if (rowOfPair[pair] == 0) {
				distinct[found++] = keys[i];
				rowOfPair[pair] = found;
			}
			row[i] = rowOfPair[pair] - 1;
		}
		return inOrder(Arrays.copyOf(distinct, found), row);
	}

	/**
	 * Sorts the rows, so that sums over them do not depend on the order of the input.
	 */
	private static long[] inOrder(long[] distinct, int[] row) {
		long[] sorted = distinct.clone();
		Arrays.sort(sorted);
		int[] place = new int[distinct.length];
		for (int r = 0; r < distinct.length; r++) {
			place[r] = Arrays.binarySearch(sorted, distinct[r]);
		}
		for (int i = 0; i < row.length; i++) {
			row[i] = place[row[i]];
		}
		return sorted;
	}

	private static long[] distinctBySorting(long[] keys, int[] row) {
		long[] sorted = keys.clone();
		Arrays.parallelSort(sorted);
		int found = 0;
		for (int i = 0; i < sorted.length; i++) {
			if (found == 0 || sorted[i] != sorted[found - 1]) {
				sorted[found++] = sorted[i];
			}
		}
		long[] distinct = Arrays.copyOf(sorted, found);
		for (int i = 0; i < row.length; i++) {
			row[i] = Arrays.binarySearch(distinct, keys[i]);
		}
		return distinct;
	}

	int rows() {
		return this.leftRank.length;
	}

	int boundaryCount() {
		return 3 * this.values.length;
	}

	double value(int rank) {
		return this.values[rank / 3];
	}

	int leftRank(int row) {
		return this.leftRank[row];
	}

	int rightRank(int row) {
		return this.rightRank[row];
	}

	/**
	 * The row into which the i-th observation was merged.
	 */
	int rowOf(int observation) {
		return this.rowOfObservation[observation];
	}

	/**
	 * The number of observations in each row; not to be changed.
	 */
	double[] weights() {
		return this.weight;
	}

	/**
	 * Number of observations, identical ones counted each.
	 */
	long total() {
		return this.total;
	}

}
