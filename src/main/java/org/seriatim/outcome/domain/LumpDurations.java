package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.seriatim.finding.ClinicLump;
import org.seriatim.finding.ClinicLumps;
import org.seriatim.finding.LumpCurve;
import org.seriatim.statistics.BootstrapPlan;
import org.seriatim.statistics.CurveBootstrap;
import org.seriatim.statistics.CurveLimits;
import org.seriatim.statistics.Estimate;
import org.seriatim.statistics.PatientDurations;
import org.springframework.stereotype.Service;

/** How long lumps last in this clinic, as far as its records can tell. */
@Service
public class LumpDurations {

	/** Days after the session at which the share still present is told. */
	public static final List<Integer> DAYS = List.of(3, 7, 14, 28);

	/** Whole days up to which the curve is drawn with its limits. */
	public static final int LAST_DRAWN_DAY = 60;

	/** Belongs to the result: the same records give the same limits to the last digit. */
	private static final long SEED = 20260101;

	/**
	 * Enough for limits that change by less than a percentage point from one seed to
	 * another.
	 */
	private static final int REPLICATES = 999;

	private static final double CONFIDENCE = 0.95;

	private final ClinicLumps lumps;

	private final Clock clock;

	LumpDurations(ClinicLumps lumps, Clock clock) {
		this.lumps = lumps;
		this.clock = clock;
	}

	/**
	 * What was asked, and what the records say.
	 *
	 * @param asOf no record dated later is in it
	 * @param withoutSession lumps left out because they belong to no session
	 * @param contradictions dates left out because they contradict others
	 */
	public record Answer(LumpQuestion question, LocalDate asOf, List<LumpGroup> groups, int withoutSession,
			int contradictions) {
	}

	public Answer answer(LumpQuestion question) {
		var today = LocalDate.now(this.clock);
		var asked = this.lumps.asOf(today).stream().filter((lump) -> question.covers(lump.treatedOn())).toList();
		var groups = asked.stream()
			.collect(Collectors.groupingBy(question.grouping()::groupOf, TreeMap::new, Collectors.toList()));
		int contradictions = asked.stream().mapToInt((lump) -> lump.duration().questions().size()).sum();
		return new Answer(question, today,
				groups.entrySet().stream().map((group) -> group(group.getKey(), group.getValue())).toList(),
				this.lumps.withoutSession(today), contradictions);
	}

	private static LumpGroup group(String value, List<ClinicLump> lumps) {
		var curve = LumpCurve
			.of(lumps.stream().map((lump) -> new LumpCurve.OfPatient(lump.patient(), lump.duration())).toList());
		var patients = lumps.stream()
			.collect(Collectors.groupingBy((lump) -> lump.patient().toString(),
					Collectors.mapping((lump) -> lump.duration().interval(), Collectors.toList())))
			.entrySet()
			.stream()
			.map((patient) -> new PatientDurations(patient.getKey(), patient.getValue()))
			.toList();
		return new LumpGroup(value, curve.patients(), lumps.size(),
				(int) lumps.stream().filter((lump) -> !lump.duration().isSeenGone()).count(),
				(int) lumps.stream().filter((lump) -> lump.duration().recurrent()).count(), curve.curve(), patients);
	}

	/**
	 * Pointwise 95 % limits of a group's curve on each whole day up to
	 * {@value #LAST_DRAWN_DAY}, and of its median, from resampled patients; or why there
	 * are none.
	 */
	public static Estimate<CurveLimits> limits(LumpGroup group) {
		var days = IntStream.rangeClosed(0, LAST_DRAWN_DAY).mapToObj(Double::valueOf).toList();
		return CurveBootstrap.limits(group.durations(), days, new BootstrapPlan(SEED, REPLICATES, CONFIDENCE));
	}

}
