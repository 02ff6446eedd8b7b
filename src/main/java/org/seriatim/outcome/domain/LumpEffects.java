package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.Covariates;
import org.seriatim.statistics.DurationInterval;
import org.seriatim.statistics.Estimate;
import org.seriatim.statistics.IntervalCensoredCurve;
import org.seriatim.statistics.WeibullRegression;

/**
 * What goes with longer and with shorter lumps: time ratios of a Weibull model, all
 * factors together, with limits that take patients into account. A level needs
 * {@value #FEWEST_LUMPS} lumps of {@value #FEWEST_PATIENTS} patients; lumps of rarer
 * levels, and those of which a factor is not on record, are left out and counted. Factors
 * enter in their order while {@value #LUMPS_FOR_EACH} lumps were seen gone for each
 * coefficient.
 *
 * @param effects by factor; empty where there is no model
 * @param references the level that the others of each factor are compared with: the one
 * with most lumps
 * @param notEntered factors for which the lumps did not suffice, or that do not vary
 * @param lumps in the model
 * @param leftOut lumps without a place in it
 * @param shape of the distribution: above 1 lumps go faster the longer they have lasted;
 * empty without a model
 * @param checks what the model says of the share still present, beside what was seen
 * @param problem why there is no model; none where there is one
 */
public record LumpEffects(List<Effect> effects, Map<Factor, String> references, List<Factor> notEntered, int lumps,
		int patients, int leftOut, OptionalDouble shape, List<Check> checks, @Nullable Problem problem) {

	/** So many lumps a level needs. */
	public static final int FEWEST_LUMPS = 10;

	/** Of so many patients. */
	public static final int FEWEST_PATIENTS = 5;

	/** Lumps seen gone for each coefficient (a rule of thumb). */
	public static final int LUMPS_FOR_EACH = 10;

	/** The unit of the effect of the volume of a point, in millilitres. */
	public static final double VOLUME_UNIT_ML = 0.01;

	private static final double CONFIDENCE = 0.95;

	/** What may go with a duration, in the order in which it enters the model. */
	public enum Factor {

		LAYER, VOLUME, COMBINATION, MASSAGE, PRODUCT, REGION, PRACTITIONER

	}

	/** Why no model can be fitted. */
	public enum Problem {

		TOO_FEW, NOT_ESTIMABLE

	}

	/**
	 * A lump.
	 *
	 * @param levels of each factor but the volume; one that is not on record is missing
	 * @param volumePerPoint millilitres, none where it is not on record
	 */
	public record Case(String patient, DurationInterval interval, Map<Factor, String> levels,
			@Nullable Double volumePerPoint) {

		boolean knows(Factor factor) {
			return (factor == Factor.VOLUME) ? this.volumePerPoint != null : this.levels.containsKey(factor);
		}

	}

	/**
	 * A time ratio.
	 *
	 * @param level compared with the reference; empty for the volume
	 * @param lumps with the level; all for the volume
	 * @param ratio of durations
	 * @param limits 95 %; none with too few patients
	 */
	public record Effect(Factor factor, String level, int lumps, double ratio, @Nullable Bounds limits) {
	}

	/**
	 * @param seen share still present on a day by the estimate that assumes no shape
	 * @param modelled mean over the lumps of what the model says
	 */
	public record Check(int day, Bounds seen, double modelled) {
	}

	public static LumpEffects of(Collection<Case> all) {
		var cases = all.stream()
			// a lump that says nothing about its end adds no coefficient
			.filter((lump) -> lump.interval().left() > 0 || !lump.interval().isRightCensored())
			.toList();
		var entered = new ArrayList<Factor>();
		var notEntered = new ArrayList<Factor>();
		var kept = cases;
		for (Factor factor : Factor.values()) {
			var candidates = new ArrayList<>(entered);
			candidates.add(factor);
			var usable = usable(cases, candidates);
			boolean varies = candidates.stream().allMatch((one) -> coefficients(usable, one) > 0);
			int needed = candidates.stream().mapToInt((one) -> coefficients(usable, one)).sum() * LUMPS_FOR_EACH;
			if (varies && seenGone(usable) >= needed && patients(usable) >= FEWEST_PATIENTS) {
				entered.add(factor);
				kept = usable;
			}
			else {
				notEntered.add(factor);
			}
		}
		if (entered.isEmpty()) {
			return none(notEntered, cases.size(), patients(cases), all.size() - cases.size(), Problem.TOO_FEW);
		}
		return fit(kept, entered, notEntered, all.size() - kept.size());
	}

	private static LumpEffects none(List<Factor> notEntered, int lumps, int patients, int leftOut, Problem problem) {
		return new LumpEffects(List.of(), Map.of(), List.copyOf(notEntered), lumps, patients, leftOut,
				OptionalDouble.empty(), List.of(), problem);
	}

	private static int seenGone(List<Case> cases) {
		return (int) cases.stream().filter((lump) -> !lump.interval().isRightCensored()).count();
	}

	private static int patients(List<Case> cases) {
		return (int) cases.stream().map(Case::patient).distinct().count();
	}

	/** Without lumps of unknown or rare levels, until no level is rare any more. */
	private static List<Case> usable(List<Case> cases, List<Factor> factors) {
		var usable = cases.stream().filter((lump) -> factors.stream().allMatch(lump::knows)).toList();
		while (true) {
			var before = usable;
			for (Factor factor : factors) {
				if (factor != Factor.VOLUME) {
					var levels = levels(usable, factor);
					usable = usable.stream().filter((lump) -> levels.containsKey(level(lump, factor))).toList();
				}
			}
			if (usable.size() == before.size()) {
				return usable;
			}
		}
	}

	private static String level(Case lump, Factor factor) {
		return Objects.requireNonNull(lump.levels().get(factor));
	}

	/** The levels that are not rare, with their numbers of lumps. */
	private static Map<String, Integer> levels(List<Case> cases, Factor factor) {
		var levels = new TreeMap<String, Integer>();
		cases.stream().collect(Collectors.groupingBy((lump) -> level(lump, factor))).forEach((level, ofLevel) -> {
			if (ofLevel.size() >= FEWEST_LUMPS && patients(ofLevel) >= FEWEST_PATIENTS) {
				levels.put(level, ofLevel.size());
			}
		});
		return levels;
	}

	private static int coefficients(List<Case> cases, Factor factor) {
		if (factor == Factor.VOLUME) {
			return (cases.stream().map(Case::volumePerPoint).distinct().count() > 1) ? 1 : 0;
		}
		return Math.max(0, levels(cases, factor).size() - 1);
	}

	private record Column(Factor factor, String level) {
	}

	private static LumpEffects fit(List<Case> cases, List<Factor> factors, List<Factor> notEntered, int leftOut) {
		var references = new EnumMap<Factor, String>(Factor.class);
		var columns = new LinkedHashMap<Column, Integer>();
		for (Factor factor : factors) {
			if (factor == Factor.VOLUME) {
				columns.put(new Column(factor, ""), cases.size());
				continue;
			}
			var levels = levels(cases, factor);
			var reference = levels.entrySet()
				.stream()
				.max(Map.Entry.<String, Integer>comparingByValue().thenComparing(Map.Entry.comparingByKey()))
				.orElseThrow()
				.getKey();
			references.put(factor, reference);
			levels.forEach((level, lumps) -> {
				if (!level.equals(reference)) {
					columns.put(new Column(factor, level), lumps);
				}
			});
		}
		var rows = cases.stream().map((lump) -> row(lump, columns.keySet())).toList();
		var names = columns.keySet().stream().map((column) -> column.factor() + "." + column.level()).toList();
		var fitted = WeibullRegression.clustered(cases.stream().map(Case::interval).toList(),
				new Covariates(names, rows), cases.stream().map(Case::patient).toList());
		if (!(fitted instanceof Estimate.Known<WeibullRegression> known)) {
			return none(notEntered, cases.size(), patients(cases), leftOut, Problem.NOT_ESTIMABLE);
		}
		var model = known.value();
		var clustered = model.clusteredTimeRatios(CONFIDENCE);
		var ratios = clustered.orElseGet(() -> model.timeRatios(CONFIDENCE));
		var effects = new ArrayList<Effect>();
		int at = 0;
		for (var column : columns.entrySet()) {
			var ratio = ratios.get(at++);
			effects.add(new Effect(column.getKey().factor(), column.getKey().level(), column.getValue(),
					ratio.estimate(), clustered.isPresent() ? new Bounds(ratio.low(), ratio.high()) : null));
		}
		return new LumpEffects(List.copyOf(effects), Map.copyOf(references), List.copyOf(notEntered), cases.size(),
				patients(cases), leftOut, OptionalDouble.of(model.shape()), checks(model, cases, rows), null);
	}

	private static double[] row(Case lump, Collection<Column> columns) {
		return columns.stream()
			.mapToDouble((column) -> (column.factor() == Factor.VOLUME)
					? Objects.requireNonNull(lump.volumePerPoint()) / VOLUME_UNIT_ML
					: level(lump, column.factor()).equals(column.level()) ? 1 : 0)
			.toArray();
	}

	private static List<Check> checks(WeibullRegression model, List<Case> cases, List<double[]> rows) {
		var curve = IntervalCensoredCurve.of(cases.stream().map(Case::interval).toList()).known();
		return curve.map((seen) -> LumpDurations.DAYS.stream()
			.map((day) -> new Check(day, seen.survivalBounds(day),
					rows.stream().mapToDouble((row) -> 1 - model.probabilityGoneBy(day, 0, row)).average().orElse(0)))
			.sorted(Comparator.comparingInt(Check::day))
			.toList()).orElse(List.of());
	}

}
