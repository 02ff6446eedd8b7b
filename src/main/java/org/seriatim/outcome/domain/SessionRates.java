package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingKind;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.ClusteredProportion;
import org.seriatim.statistics.EventCount;
import org.seriatim.statistics.ProportionInterval;

/**
 * Shares of sessions, and of patients, with at least one finding of a kind: plain Wilson
 * limits, the design effect of sessions that nest in patients, and Wilson limits at the
 * effective size. With one patient there are no limits of the latter kind.
 *
 * @param rows by group, then by kind
 */
public record SessionRates(List<Row> rows) {

	private static final double CONFIDENCE = 0.95;

	/**
	 * One patient's sessions in one group.
	 *
	 * @param unobserved sessions after which nobody looked: no contact that reached the
	 * patient, no finding, no assessment before the next session
	 */
	public record Followed(String group, String patient, int sessions, int unobserved) {
	}

	/**
	 * One patient's findings of one kind in one group.
	 *
	 * @param sessions with at least one
	 * @param unresolved not closed, without a day on which it was gone, and last seen
	 * present or not seen again
	 */
	public record Found(String group, String patient, FindingKind kind, int sessions, int findings, int unresolved) {
	}

	/**
	 * @param rate share of the sessions
	 * @param wilson as if sessions were independent
	 * @param designEffect at least 1; empty with one patient
	 * @param limits at the effective size; none with one patient
	 * @param patientRate share of the patients, with its Wilson limits
	 */
	public record Row(String group, FindingKind kind, int patients, int sessions, int withFinding, double rate,
			Bounds wilson, OptionalDouble designEffect, @Nullable Bounds limits, int patientsWithFinding,
			double patientRate, Bounds patientLimits, int findings, int unresolved, int unobserved) {
	}

	/**
	 * @param kinds that every group has a row of; empty for those that were found
	 */
	public static SessionRates of(List<Followed> followed, List<Found> found, Collection<FindingKind> kinds) {
		var asked = new TreeSet<>(kinds);
		if (asked.isEmpty()) {
			found.forEach((one) -> asked.add(one.kind()));
		}
		record Key(String group, FindingKind kind) {
		}
		var events = found.stream()
			.collect(Collectors.groupingBy((one) -> new Key(one.group(), one.kind()),
					Collectors.toMap(Found::patient, (one) -> one)));
		var rows = new ArrayList<Row>();
		followed.stream()
			.collect(Collectors.groupingBy(Followed::group, TreeMap::new, Collectors.toList()))
			.forEach((group, ofGroup) -> {
				for (FindingKind kind : asked) {
					rows.add(row(group, kind, ofGroup, events.getOrDefault(new Key(group, kind), Map.of())));
				}
			});
		return new SessionRates(List.copyOf(rows));
	}

	private static Row row(String group, FindingKind kind, List<Followed> followed, Map<String, Found> found) {
		var counts = new ArrayList<EventCount>();
		for (Followed one : followed) {
			var ofPatient = found.get(one.patient());
			counts.add(new EventCount((ofPatient != null) ? ofPatient.sessions() : 0, one.sessions()));
		}
		var clustered = ClusteredProportion.of(counts, CONFIDENCE);
		var plain = ProportionInterval.of((int) clustered.events(), (int) clustered.total(), CONFIDENCE);
		var ofPatients = ProportionInterval.of(found.size(), followed.size(), CONFIDENCE);
		return new Row(group, kind, followed.size(), (int) clustered.total(), (int) clustered.events(),
				clustered.proportion().orElseThrow(), plain.wilson().orElseThrow(), clustered.designEffectUsed(),
				clustered.limits().orElse(null), found.size(), ofPatients.estimate().orElseThrow(),
				ofPatients.wilson().orElseThrow(), found.values().stream().mapToInt(Found::findings).sum(),
				found.values().stream().mapToInt(Found::unresolved).sum(),
				followed.stream().mapToInt(Followed::unobserved).sum());
	}

	/** The rows of one kind, group by group. */
	public Map<String, Row> ofKind(FindingKind kind) {
		var rows = new LinkedHashMap<String, Row>();
		this.rows.stream()
			.filter((row) -> row.kind() == kind)
			.sorted(Comparator.comparing(Row::group))
			.forEach((row) -> rows.put(row.group(), row));
		return rows;
	}

}
