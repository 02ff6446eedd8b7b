package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.ClinicLump;
import org.seriatim.finding.ClinicLumps;
import org.seriatim.finding.LumpCurve;
import org.seriatim.statistics.BootstrapPlan;
import org.seriatim.statistics.CurveBootstrap;
import org.seriatim.statistics.CurveLimits;
import org.seriatim.statistics.Estimate;
import org.seriatim.statistics.Grouped;
import org.seriatim.statistics.IntervalScoreTest;
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

	private final FigureStatements database;

	private final Clock clock;

	LumpDurations(ClinicLumps lumps, FigureStatements database, Clock clock) {
		this.lumps = lumps;
		this.database = database;
		this.clock = clock;
	}

	/**
	 * What was asked, and what the records say.
	 *
	 * @param asOf no record dated later is in it
	 * @param withoutSession lumps left out because they belong to no session
	 * @param contradictions dates left out because they contradict others
	 * @param test whether the groups differ; none where nothing is grouped, or there are
	 * not two groups
	 * @param effects what goes with longer and shorter lumps
	 */
	public record Answer(LumpQuestion question, LocalDate asOf, List<LumpGroup> groups, int withoutSession,
			int contradictions, @Nullable IntervalScoreTest test, LumpEffects effects) {
	}

	public Answer answer(LumpQuestion question) {
		var today = LocalDate.now(this.clock);
		var asked = asked(question.filter(), today);
		var groups = asked.stream()
			.collect(Collectors.groupingBy(question.grouping()::groupOf, TreeMap::new, Collectors.toList()));
		int contradictions = asked.stream().mapToInt((lump) -> lump.duration().questions().size()).sum();
		return new Answer(question, today,
				groups.entrySet().stream().map((group) -> group(group.getKey(), group.getValue())).toList(),
				this.lumps.withoutSession(today), contradictions, test(question.grouping(), asked),
				LumpEffects.of(cases(asked)));
	}

	/**
	 * A lump is asked about by its session, and by its own region and scar.
	 */
	List<ClinicLump> asked(OutcomeFilter filter, LocalDate today) {
		var wholeFace = new OutcomeFilter(filter.from(), filter.to(), filter.practitioner(), filter.product(),
				filter.lot(), null, filter.phototype(), null, filter.combination());
		var sessions = Set.copyOf(this.database.sql("with %s select id from asked".formatted(AskedSessions.TABLE))
			.params(AskedSessions.values(wholeFace, today))
			.query(UUID.class)
			.list());
		var type = filter.scarType();
		var scars = (type != null) ? Set.copyOf(this.database.sql("select id from scar where type = :type")
			.param("type", type.word())
			.query(UUID.class)
			.list()) : Set.<UUID>of();
		return this.lumps.asOf(today).stream().filter((lump) -> {
			var session = lump.duration().lump().session();
			var scar = lump.duration().lump().scar();
			return session != null && sessions.contains(session.value())
					&& (filter.region() == null || filter.region() == lump.region())
					&& (type == null || scar != null && scars.contains(scar.value()));
		}).toList();
	}

	private static @Nullable IntervalScoreTest test(LumpGrouping grouping, List<ClinicLump> lumps) {
		if (grouping == LumpGrouping.NONE) {
			return null;
		}
		return IntervalScoreTest
			.of(lumps.stream()
				.filter((lump) -> !grouping.groupOf(lump).equals(LumpGrouping.UNKNOWN))
				.map((lump) -> new Grouped<>(grouping.groupOf(lump), lump.duration().interval()))
				.toList(), IntervalScoreTest.Scores.SUN)
			.known()
			.orElse(null);
	}

	List<LumpEffects.Case> cases(List<ClinicLump> lumps) {
		record Circumstances(@Nullable Boolean massage, @Nullable Double volumePerPoint) {
		}
		var circumstances = new HashMap<UUID, Circumstances>();
		this.database.sql("""
				select finding.id, session.massage, (sum(volume_ml) / sum(points))::float8 as per_point
				from finding
				join session on session.id = finding.session_id
				left join injection on injection.session_id = finding.session_id
					and volume_ml is not null and points is not null
					and (injection.scar_id = finding.scar_id
						or finding.scar_id is null and injection.scar_id is null and injection.region = finding.region)
				where finding.kind = 'lump'
				group by finding.id, session.massage""").query((row) -> {
			var perPoint = row.getDouble("per_point");
			boolean unknown = row.wasNull();
			circumstances.put(row.getObject("id", UUID.class),
					new Circumstances(row.getObject("massage", Boolean.class), unknown ? null : perPoint));
		});
		return lumps.stream().map((lump) -> {
			var known = circumstances.get(lump.duration().lump().id().value());
			var levels = new EnumMap<LumpEffects.Factor, String>(LumpEffects.Factor.class);
			put(levels, LumpEffects.Factor.LAYER, LumpGrouping.LAYER.groupOf(lump));
			put(levels, LumpEffects.Factor.COMBINATION, LumpGrouping.COMBINATION.groupOf(lump));
			put(levels, LumpEffects.Factor.PRODUCT, LumpGrouping.PRODUCT.groupOf(lump));
			put(levels, LumpEffects.Factor.REGION, LumpGrouping.REGION.groupOf(lump));
			put(levels, LumpEffects.Factor.PRACTITIONER, LumpGrouping.PRACTITIONER.groupOf(lump));
			if (known != null && known.massage() != null) {
				levels.put(LumpEffects.Factor.MASSAGE, known.massage() ? "yes" : "no");
			}
			return new LumpEffects.Case(lump.patient().toString(), lump.duration().interval(), levels,
					(known != null) ? known.volumePerPoint() : null);
		}).toList();
	}

	private static void put(Map<LumpEffects.Factor, String> levels, LumpEffects.Factor factor, String level) {
		if (!level.equals(LumpGrouping.UNKNOWN)) {
			levels.put(factor, level);
		}
	}

	static LumpGroup group(String value, List<ClinicLump> lumps) {
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
