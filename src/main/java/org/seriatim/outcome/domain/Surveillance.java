package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.statistics.BernoulliCusum;
import org.seriatim.statistics.ControlChart;

/**
 * Session by session: whether the odds of a finding have doubled against the clinic's own
 * rate, for the clinic and for each practitioner, with a threshold chosen by how seldom
 * it may cry wolf; and for rare findings the number of sessions between two of them.
 * Sessions count as independent here.
 *
 * @param rate in control: the clinic's over all these sessions
 * @param threshold none where no chart is possible
 * @param runLength sessions between false alarms that the threshold really gives
 * @param charts the clinic's first, under {@link #CLINIC}
 * @param gaps sessions between findings; none where the finding is not rare, or was seen
 * fewer than three times
 */
public record Surveillance(double rate, @Nullable Double threshold, @Nullable Double runLength, List<Chart> charts,
		@Nullable Gaps gaps) {

	/** Name of the chart of all sessions. */
	public static final String CLINIC = "clinic";

	/** The change that the charts are built to notice: the odds have doubled. */
	public static final double ODDS_RATIO = 2;

	/** A finding is rare below this share of sessions (a proposal, no source). */
	public static final double RARE = 0.05;

	private static final double STEP = 0.01;

	/** A session, with or without the finding. */
	public record Treated(String unit, LocalDate day, boolean event) {
	}

	/**
	 * @param statistic the sum after each session
	 * @param days of the sessions
	 * @param signalDays days on which it reached the threshold, after which it started
	 * again from 0
	 */
	public record Chart(String unit, int sessions, int events, List<Double> statistic, List<LocalDate> days,
			List<LocalDate> signalDays) {

		public double last() {
			return this.statistic.isEmpty() ? 0 : this.statistic.get(this.statistic.size() - 1);
		}

	}

	/**
	 * @param chart one point for each finding but the first
	 * @param days on which the later of the two sessions was
	 * @param since sessions since the last one
	 */
	public record Gaps(ControlChart chart, List<LocalDate> days, int since) {
	}

	/**
	 * @param sessions in the order of time
	 * @param falseAlarm average number of sessions between two false alarms, at least 1
	 */
	public static Surveillance of(List<Treated> sessions, int falseAlarm) {
		long events = sessions.stream().filter(Treated::event).count();
		double rate = sessions.isEmpty() ? 0 : (double) events / sessions.size();
		if (!(rate > 0 && rate < 1)) {
			return new Surveillance(rate, null, null, List.of(), null);
		}
		var threshold = BernoulliCusum.thresholdFor(rate, ODDS_RATIO, falseAlarm, STEP).known();
		var charts = new ArrayList<Chart>();
		threshold.ifPresent((known) -> {
			charts.add(chart(CLINIC, sessions, rate, known.threshold()));
			Map<String, List<Treated>> units = new LinkedHashMap<>();
			sessions
				.forEach((session) -> units.computeIfAbsent(session.unit(), (unit) -> new ArrayList<>()).add(session));
			units.forEach((unit, ofUnit) -> charts.add(chart(unit, ofUnit, rate, known.threshold())));
		});
		return new Surveillance(rate, threshold.map(BernoulliCusum.Threshold::threshold).orElse(null),
				threshold.map(BernoulliCusum.Threshold::inControlRunLength).orElse(null), List.copyOf(charts),
				(rate < RARE) ? gaps(sessions).orElse(null) : null);
	}

	private static Chart chart(String unit, List<Treated> sessions, double rate, double threshold) {
		var events = new boolean[sessions.size()];
		var inControl = new double[sessions.size()];
		for (int i = 0; i < events.length; i++) {
			events[i] = sessions.get(i).event();
			inControl[i] = rate;
		}
		var path = new BernoulliCusum(ODDS_RATIO, threshold, true).path(events, inControl);
		return new Chart(unit, events.length, (int) sessions.stream().filter(Treated::event).count(), path.statistic(),
				sessions.stream().map(Treated::day).toList(),
				path.signals().stream().map((position) -> sessions.get(position - 1).day()).toList());
	}

	private static Optional<Gaps> gaps(List<Treated> sessions) {
		var gaps = new ArrayList<Integer>();
		var days = new ArrayList<LocalDate>();
		int last = -1;
		for (int i = 0; i < sessions.size(); i++) {
			if (sessions.get(i).event()) {
				if (last >= 0) {
					gaps.add(i - last - 1);
					days.add(sessions.get(i).day());
				}
				last = i;
			}
		}
		int since = sessions.size() - 1 - last;
		return ControlChart.casesBetween(gaps.stream().mapToInt(Integer::intValue).toArray())
			.known()
			.map((chart) -> new Gaps(chart, List.copyOf(days), since));
	}

}
