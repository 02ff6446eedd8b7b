package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarType;
import org.seriatim.outcome.ExpectedGain;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.ClusterRobustRegression;
import org.seriatim.statistics.Clustered;
import org.seriatim.statistics.Covariates;
import org.seriatim.statistics.RandomInterceptModel;

/**
 * The gain of each session, by type of scar.
 * <p>
 * A step of a scar is \( g = \ln(d_{k-1}/d_k) \), the fall of its depth over session k on
 * the scale of logarithms, which is the step that the plateau rule looks at. For one type
 * \( g = \mu_k + b_{patient} + e \): a mean of each session, an intercept of each patient
 * since the scars of one patient respond alike, by restricted maximum likelihood, with
 * limits from the t distribution and Satterthwaite's degrees of freedom. The gain is
 * \(100 (1 - e^{-\mu_k})\) percent.
 * <ul>
 * <li>A session with fewer than {@value ExpectedGain#FEWEST_PATIENTS} patients stays out
 * of the model and has counts only.</li>
 * <li>No variance between patients, or no patient with two steps: means with
 * patient-clustered CR2 errors instead.</li>
 * <li>Depth 0 has no logarithm: the scar is counted as resolved, and its later steps are
 * none.</li>
 * <li>Steps of one scar share a measurement and so are not independent; a mean of one
 * session is little touched by that, a comparison of two sessions would be.</li>
 * </ul>
 */
final class SessionGains {

	private static final double CONFIDENCE = 0.95;

	private SessionGains() {
	}

	/** The fall of a scar's depth over one session. */
	private record Step(String patient, int session, double gain) {
	}

	/** Measured steps and resolved scars of one type. */
	private static final class OfType {

		private final TreeMap<Integer, List<Step>> steps = new TreeMap<>();

		private final TreeMap<Integer, Integer> resolved = new TreeMap<>();

		void add(Step step) {
			this.steps.computeIfAbsent(step.session(), (session) -> new ArrayList<>()).add(step);
		}

		void resolved(int session) {
			this.resolved.merge(session, 1, Integer::sum);
			this.steps.computeIfAbsent(session, (key) -> new ArrayList<>());
		}

	}

	/**
	 * @param scars compared with their baselines, in any order
	 */
	static List<ExpectedGain> of(List<ComparedScar> scars) {
		var types = new EnumMap<ScarType, OfType>(ScarType.class);
		record Course(UUID series, UUID scar) {
		}
		scars.stream()
			.filter((scar) -> scar.change() instanceof ScarChange.InDepth)
			.collect(Collectors.groupingBy((scar) -> new Course(scar.series(), scar.scar())))
			.values()
			.forEach((course) -> addSteps(course, types.computeIfAbsent(course.get(0).type(), (type) -> new OfType())));
		var gains = new ArrayList<ExpectedGain>();
		types.forEach((type, ofType) -> gains.addAll(gains(type, ofType)));
		return List.copyOf(gains);
	}

	private static void addSteps(List<ComparedScar> course, OfType ofType) {
		int stage = 0;
		double before = 0;
		for (var scar : course.stream().sorted(Comparator.comparingInt(ComparedScar::stage)).toList()) {
			var depth = (ScarChange.InDepth) scar.change();
			if (depth == null) {
				continue;
			}
			if (scar.stage() == stage + 1 && before != Double.NEGATIVE_INFINITY) {
				if (depth.isResolved()) {
					ofType.resolved(scar.stage());
				}
				else {
					ofType.add(new Step(scar.patient().toString(), scar.stage(), before - depth.logRatio()));
				}
			}
			stage = scar.stage();
			before = depth.logRatio();
		}
	}

	private static List<ExpectedGain> gains(ScarType type, OfType ofType) {
		var carried = ofType.steps.entrySet()
			.stream()
			.filter((session) -> patients(session.getValue()) >= ExpectedGain.FEWEST_PATIENTS)
			.map(Map.Entry::getKey)
			.toList();
		var steps = carried.stream().flatMap((session) -> ofType.steps.get(session).stream()).toList();
		var gains = new ArrayList<ExpectedGain>();
		ofType.steps.forEach((session,
				ofSession) -> gains.add(new ExpectedGain(type, session, patients(ofSession), ofSession.size(),
						ofType.resolved.getOrDefault(session, 0),
						carried.contains(session) ? change(session, carried, steps) : null)));
		return gains;
	}

	private static int patients(List<Step> steps) {
		return (int) steps.stream().map(Step::patient).distinct().count();
	}

	/**
	 * The session asked about is the one that the others are compared with, so that the
	 * intercept is its mean.
	 */
	private static ExpectedGain.@Nullable Change change(int session, List<Integer> sessions, List<Step> steps) {
		var others = sessions.stream().filter((other) -> other != session).toList();
		var covariates = new Covariates(others.stream().map((other) -> "session " + other).toList(),
				steps.stream()
					.map((step) -> others.stream().mapToDouble((other) -> (step.session() == other) ? 1 : 0).toArray())
					.toList());
		var values = steps.stream().map((step) -> new Clustered<>(step.patient(), step.gain())).toList();
		return byMixedModel(values, covariates).or(() -> byClusteredMeans(values, covariates)).orElse(null);
	}

	private static Optional<ExpectedGain.Change> byMixedModel(List<Clustered<Double>> values, Covariates covariates) {
		return RandomInterceptModel.ofPatients(values, covariates)
			.known()
			.filter((model) -> !model.singular())
			.map((model) -> model.terms().get(0))
			.flatMap((term) -> term.limits(CONFIDENCE)
				.map((limits) -> change(term.estimate(), limits, ExpectedGain.Method.MIXED_MODEL)));
	}

	private static Optional<ExpectedGain.Change> byClusteredMeans(List<Clustered<Double>> values,
			Covariates covariates) {
		return ClusterRobustRegression.of(values, covariates)
			.known()
			.map((regression) -> regression.coefficients().get(0))
			.flatMap((term) -> term.limits(CONFIDENCE)
				.map((limits) -> change(term.estimate(), limits, ExpectedGain.Method.CLUSTERED_MEAN)));
	}

	private static ExpectedGain.Change change(double mean, Bounds limits, ExpectedGain.Method method) {
		return new ExpectedGain.Change(percent(mean), percent(limits.low()), percent(limits.high()), method);
	}

	private static double percent(double gain) {
		return -100 * Math.expm1(-gain);
	}

}
