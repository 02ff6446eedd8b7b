package org.seriatim.statistics;

import java.util.Arrays;

/**
 * Nonparametric maximum likelihood for interval-censored durations on the rows of an
 * {@link IntervalTable}, for any weights of its rows. An instance is a workspace that can
 * be used again and again by one thread.
 * <p>
 * Each row covers a contiguous block of innermost intervals \(a_i \ldots b_i\). Wanted is
 * the maximum of \( \ell(p) = \sum_i w_i \ln P_i \), \( P_i = \sum_{j=a_i}^{b_i} p_j \),
 * over \(p \ge 0\), \(\sum p = 1\). With \( D_j = \sum_i w_i 1\{a_i \le j \le b_i\} / P_i
 * \) and \(n = \sum w_i\) the masses are the maximum if and only if \(D_j \le n\) for all
 * j (Gentleman and Geyer 1994), and \( \max_j D_j - n \) bounds how far the likelihood
 * can still grow. This is the only stopping rule; the steps below merely lead there.
 * <p>
 * A round is two EM steps and one step of the iterative convex minorant with a halving
 * line search (Wellner and Zhan 1997), which settles roughly where the mass is; then a
 * Newton step restricted to the support (Wang 2008): in terms of the distribution
 * function \(F\) at the ends of the support, each row touches two values only, so the
 * matrix of second derivatives is a sparse graph Laplacian and is factorised within its
 * envelope. Intervals with \(D_j > n\) enter the support before the step; intervals whose
 * mass would become negative leave it. Every pass over the rows costs O(rows +
 * intervals).
 * <p>
 * Sources: Turnbull 1976, JRSS B 38, 290-295; Gentleman, Geyer 1994, Biometrika 81,
 * 618-623; Wellner, Zhan 1997, JASA 92, 945-959; Wang 2008, Computational Statistics and
 * Data Analysis 52, 2388-2402.
 */
final class NonparametricMaximum {

	/**
	 * Largest accepted value of \( \max_j D_j / n - 1 \).
	 */
	static final double CERTIFICATE = 1e-8;

	static final int MAX_ROUNDS = 2000;

	/**
	 * Minorant steps before the first Newton step: they cost one pass each, while a
	 * Newton step on a support that is far too large costs much more.
	 */
	private static final int FIRST_STEPS = 3;

	/**
	 * Above this many multiplications within the envelope of the matrix a Newton step is
	 * not worth its price.
	 */
	private static final long MAX_WORK = 2_000_000_000L;

	private static final int MAX_ENVELOPE = 50_000_000;

	private static final int MAX_HALVINGS = 40;

	private final IntervalTable table;

	private final int[] leftCell;

	private final int[] rightCell;

	private final int[] cellLeftRank;

	private final int[] cellRightRank;

	private final int[] a;

	private final int[] b;

	private final double[] w;

	private final double[] chance;

	private int rows;

	private int cells;

	private double n;

	private double[] p;

	private double[] candidate;

	/** Where the last step aimed at, before its line search: zero means no mass. */
	private final double[] aim;

	private final double[] d;

	private final double[] cumulative;

	private final double[] first;

	private final double[] second;

	private final int[] block;

	private final int[] node;

	private final int[] support;

	private int[] rowStart = new int[0];

	private double[] envelope = new double[0];

	private double[] solution = new double[0];

	private double excess;

	private int roundsMade;

	NonparametricMaximum(IntervalTable table) {
		this.table = table;
		int boundaries = table.boundaryCount();
		int most = Math.max(1, boundaries / 3 + 1);
		this.leftCell = new int[boundaries];
		this.rightCell = new int[boundaries];
		this.cellLeftRank = new int[most];
		this.cellRightRank = new int[most];
		this.a = new int[table.rows()];
		this.b = new int[table.rows()];
		this.w = new double[table.rows()];
		this.chance = new double[table.rows()];
		this.p = new double[most];
		this.candidate = new double[most];
		this.aim = new double[most];
		this.d = new double[most + 1];
		this.cumulative = new double[most + 1];
		this.first = new double[most + 1];
		this.second = new double[most + 1];
		this.block = new int[most + 1];
		this.node = new int[most + 1];
		this.support = new int[most + 1];
	}

	/**
	 * Maximises the likelihood for these weights of the rows of the table.
	 * @param weight not negative, at least one positive; rows of weight 0 play no part,
	 * not even in the innermost intervals
	 * @return whether the certificate was reached
	 */
	boolean maximise(double[] weight) {
		findCells(weight);
		return iterate();
	}

	/**
	 * Innermost intervals: each left boundary that is immediately followed by a right
	 * one.
	 */
	private void findCells(double[] weight) {
		int boundaries = this.table.boundaryCount();
		Arrays.fill(this.leftCell, 0);
		this.n = 0;
		for (int r = 0; r < weight.length; r++) {
			if (weight[r] > 0) {
				this.leftCell[this.table.leftRank(r)] = 1;
				this.leftCell[this.table.rightRank(r)] = 1;
				this.n += weight[r];
			}
		}
		this.cells = 0;
		int open = -1;
		// while walking up: leftCell = first cell whose left boundary is at this rank or
		// later, rightCell = last cell whose right boundary is at this rank or earlier
		for (int rank = 0; rank < boundaries; rank++) {
			boolean used = this.leftCell[rank] != 0;
			boolean isRight = rank % 3 == IntervalTable.CLOSED_RIGHT;
			if (used && !isRight) {
				open = rank;
			}
			this.leftCell[rank] = this.cells;
			if (used && isRight && open >= 0) {
				this.cellLeftRank[this.cells] = open;
				this.cellRightRank[this.cells] = rank;
				this.cells++;
				open = -1;
			}
			this.rightCell[rank] = this.cells - 1;
		}
		this.rows = 0;
		for (int r = 0; r < weight.length; r++) {
			if (weight[r] > 0) {
				int from = this.leftCell[this.table.leftRank(r)];
				int to = this.rightCell[this.table.rightRank(r)];
				// rows come sorted by their ends, so equal blocks are often neighbours
				if (this.rows > 0 && this.a[this.rows - 1] == from && this.b[this.rows - 1] == to) {
					this.w[this.rows - 1] += weight[r];
				}
				else {
					this.a[this.rows] = from;
					this.b[this.rows] = to;
					this.w[this.rows] = weight[r];
					this.rows++;
				}
			}
		}
	}

	private boolean iterate() {
		Arrays.fill(this.p, 0, this.cells, 1.0 / this.cells);
		Arrays.fill(this.aim, 0, this.cells, 1);
		chances(this.p);
		boolean newtonHelps = false;
		for (this.roundsMade = 0; this.roundsMade < MAX_ROUNDS; this.roundsMade++) {
			gradient();
			if (this.excess <= CERTIFICATE) {
				return true;
			}
			for (int step = 0; step < FIRST_STEPS && !newtonHelps; step++) {
				expectationStep();
				expectationStep();
				convexMinorantStep();
				gradient();
			}
			newtonHelps = newtonStep();
		}
		gradient();
		return this.excess <= CERTIFICATE;
	}

	/**
	 * \(P_i\) of all rows for these masses.
	 */
	private void chances(double[] masses) {
		double sum = 0;
		this.cumulative[0] = 0;
		for (int j = 0; j < this.cells; j++) {
			sum += masses[j];
			this.cumulative[j + 1] = sum;
		}
		for (int i = 0; i < this.rows; i++) {
			this.chance[i] = this.cumulative[this.b[i] + 1] - this.cumulative[this.a[i]];
		}
	}

	/**
	 * \(D_j\) at the current masses, and how far the largest exceeds n.
	 */
	private void gradient() {
		Arrays.fill(this.d, 0, this.cells + 1, 0);
		for (int i = 0; i < this.rows; i++) {
			double share = this.w[i] / this.chance[i];
			this.d[this.a[i]] += share;
			this.d[this.b[i] + 1] -= share;
		}
		double largest = 0;
		double sum = 0;
		for (int j = 0; j < this.cells; j++) {
			sum += this.d[j];
			this.d[j] = sum;
			largest = Math.max(largest, sum);
		}
		this.excess = largest / this.n - 1;
	}

	private void expectationStep() {
		double sum = 0;
		for (int j = 0; j < this.cells; j++) {
			this.p[j] *= this.d[j] / this.n;
			sum += this.p[j];
		}
		for (int j = 0; j < this.cells; j++) {
			this.p[j] /= sum;
		}
		chances(this.p);
		gradient();
	}

	private double logLikelihoodOfChances() {
		double sum = 0;
		for (int i = 0; i < this.rows; i++) {
			if (!(this.chance[i] > 0)) {
				return Double.NEGATIVE_INFINITY;
			}
			sum += this.w[i] * Math.log(this.chance[i]);
		}
		return sum;
	}

	/**
	 * Weighted isotonic regression of \(F_k + g_k/h_k\) with weights \(h_k\), the
	 * diagonal of the second derivatives, by pooling adjacent violators; then a line
	 * search.
	 */
	private void convexMinorantStep() {
		int m = this.cells;
		Arrays.fill(this.first, 0, m + 1, 0);
		Arrays.fill(this.second, 0, m + 1, 0);
		for (int i = 0; i < this.rows; i++) {
			double g = this.w[i] / this.chance[i];
			double h = g / this.chance[i];
			this.first[this.b[i] + 1] += g;
			this.second[this.b[i] + 1] += h;
			this.first[this.a[i]] -= g;
			this.second[this.a[i]] += h;
		}
		// pooled values overwrite first and second from index 1 on
		int pools = 0;
		for (int k = 1; k < m; k++) {
			double h = Math.max(this.second[k], Double.MIN_NORMAL);
			double value = this.cumulative[k] + this.first[k] / h;
			int start = k;
			while (pools > 0 && this.first[pools] >= value) {
				double total = this.second[pools] + h;
				value = (this.second[pools] * this.first[pools] + h * value) / total;
				h = total;
				start = this.block[pools];
				pools--;
			}
			pools++;
			this.first[pools] = value;
			this.second[pools] = h;
			this.block[pools] = start;
		}
		double before = 0;
		int pool = 0;
		for (int k = 1; k <= m; k++) {
			if (pool < pools && this.block[pool + 1] == k) {
				pool++;
			}
			double value = (k == m) ? 1 : Math.min(1, Math.max(0, this.first[pool]));
			this.candidate[k - 1] = value - before;
			before = value;
		}
		searchTowardsCandidate();
	}

	/**
	 * Goes from the current masses towards the candidate as far as the likelihood grows,
	 * halving the step until it does.
	 * @return whether a step was taken
	 */
	private boolean searchTowardsCandidate() {
		System.arraycopy(this.candidate, 0, this.aim, 0, this.cells);
		double current = logLikelihoodOfChances();
		for (int halving = 0; halving < MAX_HALVINGS; halving++) {
			chances(this.candidate);
			if (logLikelihoodOfChances() > current) {
				double[] old = this.p;
				this.p = this.candidate;
				this.candidate = old;
				return true;
			}
			for (int j = 0; j < this.cells; j++) {
				this.candidate[j] = 0.5 * (this.candidate[j] + this.p[j]);
			}
		}
		chances(this.p);
		return false;
	}

	/**
	 * Maximises the quadratic approximation of the likelihood over the masses of the
	 * support and goes towards that point.
	 * @return whether the likelihood grew
	 */
	private boolean newtonStep() {
		int size = collectSupport();
		if (size < 2) {
			return false;
		}
		while (true) {
			numberNodes(size);
			if (!factorise(size)) {
				return false;
			}
			int kept = dropNegative(size);
			if (kept == size) {
				break;
			}
			size = kept;
		}
		Arrays.fill(this.candidate, 0, this.cells, 0);
		double slope = -this.n;
		double before = 0;
		for (int r = 0; r < size; r++) {
			double value = (r == size - 1) ? 1 : this.solution[r + 1];
			this.candidate[this.support[r]] = Math.max(0, value - before);
			slope += this.d[this.support[r]] * this.candidate[this.support[r]];
			before = value;
		}
		return slope > 0 && searchTowardsCandidate();
	}

	/**
	 * The intervals in which the last step wanted mass, and in each gap between two of
	 * them the one whose condition is violated most. (A shortened step leaves a little
	 * mass everywhere, which says nothing about the support.)
	 */
	private int collectSupport() {
		int size = 0;
		int worst = -1;
		for (int j = 0; j < this.cells; j++) {
			if (this.aim[j] > 0) {
				if (worst >= 0) {
					this.support[size++] = worst;
					worst = -1;
				}
				this.support[size++] = j;
			}
			else if (this.d[j] > this.n && (worst < 0 || this.d[j] > this.d[worst])) {
				worst = j;
			}
		}
		if (worst >= 0) {
			this.support[size++] = worst;
		}
		return size;
	}

	/**
	 * node[k] = number of support intervals among the first k intervals.
	 */
	private void numberNodes(int size) {
		int r = 0;
		for (int k = 0; k <= this.cells; k++) {
			this.node[k] = r;
			if (r < size && this.support[r] == k) {
				r++;
			}
		}
	}

	/**
	 * Solves for F at the nodes 1 to size-1 (F is 0 at node 0 and 1 at node size): \(
	 * \sum_i w_i ((F_v - F_u)/P_i - 2)^2 \) is least.
	 * @return whether the matrix was worth factorising and positive definite
	 */
	private boolean factorise(int size) {
		if (this.rowStart.length < size + 2) {
			this.rowStart = new int[2 * size + 2];
			this.solution = new double[2 * size + 2];
		}
		int[] lowest = this.block;
		for (int r = 0; r <= size; r++) {
			lowest[r] = r;
		}
		for (int i = 0; i < this.rows; i++) {
			int u = this.node[this.a[i]];
			int v = this.node[this.b[i] + 1];
			if (u > 0 && v < size && u < lowest[v]) {
				lowest[v] = u;
			}
		}
		long elements = 0;
		long work = 0;
		// rowStart[r] + column is the place of an element of row r
		for (int r = 1; r < size; r++) {
			this.rowStart[r] = (int) elements - lowest[r];
			long width = r - lowest[r] + 1;
			elements += width;
			work += width * width;
			if (elements > MAX_ENVELOPE || work > MAX_WORK) {
				return false;
			}
		}
		if (this.envelope.length < elements) {
			this.envelope = new double[(int) Math.max(elements, 1024)];
		}
		else {
			Arrays.fill(this.envelope, 0, (int) elements, 0);
		}
		Arrays.fill(this.solution, 0, size + 1, 0);
		for (int i = 0; i < this.rows; i++) {
			int u = this.node[this.a[i]];
			int v = this.node[this.b[i] + 1];
			double g = this.w[i] / this.chance[i];
			double h = g / this.chance[i];
			if (u == v) {
				continue;
			}
			if (u > 0) {
				this.envelope[this.rowStart[u] + u] += h;
				this.solution[u] -= 2 * g;
			}
			if (v < size) {
				this.envelope[this.rowStart[v] + v] += h;
				this.solution[v] += 2 * g;
				if (u > 0) {
					this.envelope[this.rowStart[v] + u] -= h;
				}
			}
			else if (u > 0) {
				this.solution[u] += h;
			}
		}
		return choleskySolve(size, lowest);
	}

	private boolean choleskySolve(int size, int[] lowest) {
		double[] e = this.envelope;
		for (int r = 1; r < size; r++) {
			int row = this.rowStart[r];
			int low = lowest[r];
			double diagonal = e[row + r];
			double value = this.solution[r];
			for (int c = low; c < r; c++) {
				int other = this.rowStart[c];
				double sum = e[row + c];
				for (int k = Math.max(low, lowest[c]); k < c; k++) {
					sum -= e[row + k] * e[other + k];
				}
				double element = sum / e[other + c];
				e[row + c] = element;
				diagonal -= element * element;
				value -= element * this.solution[c];
			}
			if (!(diagonal > 0)) {
				return false;
			}
			double root = Math.sqrt(diagonal);
			e[row + r] = root;
			this.solution[r] = value / root;
		}
		for (int r = size - 1; r >= 1; r--) {
			int row = this.rowStart[r];
			double value = this.solution[r] / e[row + r];
			this.solution[r] = value;
			for (int c = lowest[r]; c < r; c++) {
				this.solution[c] -= e[row + c] * value;
			}
		}
		return true;
	}

	/**
	 * Takes out of each run of negative masses the most negative one; all at once would
	 * take out too many, since neighbours compete for the same mass.
	 */
	private int dropNegative(int size) {
		int kept = 0;
		double before = 0;
		int worst = -1;
		double worstMass = 0;
		for (int r = 0; r < size; r++) {
			double value = (r == size - 1) ? 1 : this.solution[r + 1];
			double mass = value - before;
			before = value;
			if (mass < 0) {
				if (worst < 0) {
					worst = kept;
					worstMass = mass;
				}
				else if (mass < worstMass) {
					worst = kept;
					worstMass = mass;
				}
				this.support[kept++] = this.support[r];
			}
			else {
				if (worst >= 0) {
					kept = remove(worst, kept);
					worst = -1;
				}
				this.support[kept++] = this.support[r];
			}
		}
		return (worst >= 0) ? remove(worst, kept) : kept;
	}

	private int remove(int position, int size) {
		System.arraycopy(this.support, position + 1, this.support, position, size - position - 1);
		return size - 1;
	}

	int cells() {
		return this.cells;
	}

	double left(int cell) {
		return this.table.value(this.cellLeftRank[cell]);
	}

	double right(int cell) {
		return this.table.value(this.cellRightRank[cell]);
	}

	double mass(int cell) {
		return this.p[cell];
	}

	double logLikelihood() {
		return logLikelihoodOfChances();
	}

	/**
	 * \( \max_j D_j / n - 1 \) that was reached.
	 */
	double excess() {
		return this.excess;
	}

	int rounds() {
		return this.roundsMade;
	}

	/**
	 * First innermost interval inside a row of the table (which must have had weight).
	 */
	int firstCell(int row) {
		return this.leftCell[this.table.leftRank(row)];
	}

	/**
	 * Last innermost interval inside a row of the table (which must have had weight).
	 */
	int lastCell(int row) {
		return this.rightCell[this.table.rightRank(row)];
	}

}
