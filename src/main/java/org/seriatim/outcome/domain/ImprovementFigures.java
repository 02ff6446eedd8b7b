package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarType;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.Clustered;
import org.seriatim.statistics.ClusterRobustRegression;
import org.seriatim.statistics.ClusteredProportion;
import org.seriatim.statistics.EventCount;

/**
 * Improvement of scars by type and stage: means over scars with patient-clustered CR2
 * limits, and the shares that changed by more than measurement error. Rows with fewer
 * than {@value #FEWEST_PATIENTS} patients keep their counts and have no figures.
 *
 * @param rows by type and stage
 * @param courses of single scars, for the lines behind the means
 * @param noBaseline pairs of scar and stage left out for want of a baseline
 * @param notComparable pairs of scar and stage left out because neither depths by one
 * method nor grades are known at both
 * @param notFollowed pairs of scar and stage left out because the scar had merged, split
 * or been excluded by then
 */
public record ImprovementFigures(List<Row> rows, Map<ScarType, List<Course>> courses, int noBaseline, int notComparable,
		int notFollowed) {

	/** So many patients a mean needs. */
	public static final int FEWEST_PATIENTS = 5;

	private static final double CONFIDENCE = 0.95;

	/**
	 * One type at one stage.
	 *
	 * @param patients with a scar whose depth was compared
	 * @param scars whose depth was compared
	 * @param mean improvement in percent; empty with too few patients
	 * @param standardError CR2, in percentage points
	 * @param limits 95 %, from the t distribution with Satterthwaite's degrees of freedom
	 * @param resolved scars of which nothing is left
	 * @param gradeScars scars of which only the grades could be compared
	 * @param gradePatients patients of these
	 * @param meanGradeChange in grades, negative is better; empty with too few patients
	 * @param better share of the scars improved beyond measurement error; none where that
	 * is not known
	 * @param worse share that became deeper beyond measurement error
	 */
	public record Row(ScarType type, int stage, int patients, int scars, OptionalDouble mean,
			OptionalDouble standardError, @Nullable Bounds limits, int resolved, int gradeScars, int gradePatients,
			OptionalDouble meanGradeChange, @Nullable Share better, @Nullable Share worse) {
	}

	/**
	 * A share of scars.
	 *
	 * @param limits at the effective size; none with one patient
	 */
	public record Share(long scars, double share, @Nullable Bounds limits) {
	}

	/** Improvement in percent of one scar of one series, by stage. */
	public record Course(List<Step> steps) {
	}

	/** One step of a course. */
	public record Step(int stage, double percent) {
	}

	/**
	 * @param smallestChange smallest detectable change on the scale of logarithms; empty
	 * where it is not known
	 */
	public static ImprovementFigures of(List<ComparedScar> scars, OptionalDouble smallestChange) {
		var rows = new ArrayList<Row>();
		record Key(ScarType type, int stage) {
		}
		scars.stream()
			.filter((scar) -> scar.change() != null)
			.collect(Collectors.groupingBy((scar) -> new Key(scar.type(), scar.stage()),
					() -> new TreeMap<>(Comparator.comparing(Key::type).thenComparingInt(Key::stage)),
					Collectors.toList()))
			.forEach((key, ofRow) -> rows.add(row(key.type(), key.stage(), ofRow, smallestChange)));
		return new ImprovementFigures(List.copyOf(rows), courses(scars), count(scars, ComparedScar.LeftOut.NO_BASELINE),
				count(scars, ComparedScar.LeftOut.NOT_COMPARABLE), count(scars, ComparedScar.LeftOut.NOT_FOLLOWED));
	}

	private static int count(List<ComparedScar> scars, ComparedScar.LeftOut why) {
		return (int) scars.stream().filter((scar) -> scar.leftOut() == why).count();
	}

	private static Row row(ScarType type, int stage, List<ComparedScar> scars, OptionalDouble smallestChange) {
		var depths = new ArrayList<Clustered<ScarChange.InDepth>>();
		var grades = new ArrayList<Clustered<Double>>();
		for (ComparedScar scar : scars) {
			if (scar.change() instanceof ScarChange.InDepth depth) {
				depths.add(new Clustered<>(scar.patient().toString(), depth));
			}
			else if (scar.change() instanceof ScarChange.InGrade grade) {
				grades.add(new Clustered<>(scar.patient().toString(), grade.grades()));
			}
		}
		int patients = patients(depths);
		int gradePatients = patients(grades);
		var mean = (patients >= FEWEST_PATIENTS) ? ClusterRobustRegression
			.mean(depths.stream().map((depth) -> new Clustered<>(depth.patient(), depth.value().percent())).toList())
			.known()
			.map((regression) -> regression.coefficients().get(0))
				: java.util.Optional.<ClusterRobustRegression.Term>empty();
		var gradeMean = (gradePatients >= FEWEST_PATIENTS) ? grades.stream().mapToDouble(Clustered::value).average()
				: OptionalDouble.empty();
		boolean judged = smallestChange.isPresent() && patients >= FEWEST_PATIENTS;
		return new Row(type, stage, patients, depths.size(),
				mean.map((term) -> OptionalDouble.of(term.estimate())).orElse(OptionalDouble.empty()),
				mean.map(ClusterRobustRegression.Term::standardError).orElse(OptionalDouble.empty()),
				mean.flatMap((term) -> term.limits(CONFIDENCE)).orElse(null),
				(int) depths.stream().filter((depth) -> depth.value().isResolved()).count(), grades.size(),
				gradePatients, gradeMean,
				judged ? share(depths,
						(change) -> change.isBeyond(smallestChange.getAsDouble()) && change.percent() > 0) : null,
				judged ? share(depths,
						(change) -> change.isBeyond(smallestChange.getAsDouble()) && change.percent() < 0) : null);
	}

	private static int patients(List<? extends Clustered<?>> values) {
		return (int) values.stream().map(Clustered::patient).distinct().count();
	}

	private static Share share(List<Clustered<ScarChange.InDepth>> depths,
			java.util.function.Predicate<ScarChange.InDepth> changed) {
		var counts = depths.stream()
			.collect(Collectors.groupingBy(Clustered::patient, TreeMap::new, Collectors.toList()))
			.values()
			.stream()
			.map((ofPatient) -> new EventCount(
					(int) ofPatient.stream().filter((depth) -> changed.test(depth.value())).count(), ofPatient.size()))
			.toList();
		var proportion = ClusteredProportion.of(counts, CONFIDENCE);
		return new Share(proportion.events(), proportion.proportion().orElseThrow(), proportion.limits().orElse(null));
	}

	private static Map<ScarType, List<Course>> courses(List<ComparedScar> scars) {
		record Key(UUID series, UUID scar) {
		}
		var courses = new TreeMap<ScarType, List<Course>>();
		scars.stream()
			.filter((scar) -> scar.change() instanceof ScarChange.InDepth)
			.collect(Collectors.groupingBy((scar) -> new Key(scar.series(), scar.scar()), java.util.LinkedHashMap::new,
					Collectors.toList()))
			.values()
			.forEach((ofScar) -> courses.computeIfAbsent(ofScar.get(0).type(), (type) -> new ArrayList<>())
				.add(new Course(ofScar.stream()
					.sorted(Comparator.comparingInt(ComparedScar::stage))
					.map((scar) -> new Step(scar.stage(),
							(scar.change() instanceof ScarChange.InDepth depth) ? depth.percent() : 0))
					.toList())));
		return courses;
	}

}
