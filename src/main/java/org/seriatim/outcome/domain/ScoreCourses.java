package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * Scores through series, put together from single ones in any order: of each stage the
 * last day counts, the scores of one day by their mean.
 */
final class ScoreCourses {

	private static final int BASELINE = 0;

	private record Key(UUID series, UUID patient, String subject) implements Comparable<Key> {

		@Override
		public int compareTo(Key other) {
			int bySeries = this.series.compareTo(other.series);
			return (bySeries != 0) ? bySeries : this.subject.compareTo(other.subject);
		}

	}

	private final Map<Key, Map<Integer, Stage>> courses = new TreeMap<>();

	/**
	 * @param stage 0 for a day on or before the first session
	 */
	void add(UUID series, UUID patient, String subject, int stage, LocalDate day, double score) {
		this.courses.computeIfAbsent(new Key(series, patient, subject), (key) -> new TreeMap<>())
			.computeIfAbsent(stage, (number) -> new Stage())
			.add(day, score);
	}

	/** Each stage that has a score, where the baseline has one too. */
	List<ChangeFigures.Pair> pairs() {
		var pairs = new ArrayList<ChangeFigures.Pair>();
		this.courses.forEach((key, stages) -> {
			var baseline = stages.get(BASELINE);
			if (baseline != null) {
				stages.forEach((number, stage) -> {
					if (number != BASELINE) {
						pairs.add(new ChangeFigures.Pair(key.patient().toString(), key.subject(), number,
								baseline.mean(), stage.mean()));
					}
				});
			}
		});
		return pairs;
	}

	private static final class Stage {

		private @Nullable LocalDate last;

		private double sum;

		private int scores;

		void add(LocalDate day, double score) {
			if (this.last == null || day.isAfter(this.last)) {
				this.last = day;
				this.sum = 0;
				this.scores = 0;
			}
			if (day.equals(this.last)) {
				this.sum += score;
				this.scores++;
			}
		}

		double mean() {
			return this.sum / this.scores;
		}

	}

}
