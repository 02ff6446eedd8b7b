package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

import org.seriatim.finding.FindingKind;
import org.springframework.context.ApplicationContext;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * The statistics of each page of the clinic's figures without reading and writing: what
 * is computed from the values that the page reads.
 */
public final class OutcomeKernels {

	private OutcomeKernels() {
	}

	/** What to run for the kernels of a page, by its address; reads the values once. */
	public static Map<String, Runnable> of(ApplicationContext service) {
		var kernels = new LinkedHashMap<String, Runnable>();
		new TransactionTemplate(service.getBean(PlatformTransactionManager.class)).executeWithoutResult((reading) -> {
			kernels.put("/outcomes/improvement",
					improvement(service.getBean(ScarImprovement.class), service.getBean(FaceImprovement.class)));
			kernels.put("/outcomes/lumps", lumps(service.getBean(LumpDurations.class)));
			var complications = service.getBean(Complications.class);
			kernels.put("/outcomes/complications", rates(complications));
			kernels.put("/outcomes/complications?kind=bruise", charts(complications));
			var ratings = service.getBean(RatingRepeatability.class);
			var depths = ratings.depths(OutcomeFilter.NONE);
			var grades = ratings.grades(OutcomeFilter.NONE);
			kernels.put("/outcomes/repeatability", () -> RatingAgreement.of(depths, grades));
			kernels.put("/outcomes/data-quality", () -> {
			});
		});
		return kernels;
	}

	private static Runnable improvement(ScarImprovement scars, FaceImprovement faces) {
		var compared = scars.compared(OutcomeFilter.NONE);
		var pores = faces.porePairs(OutcomeFilter.NONE);
		var changes = List.of(faces.scalePairs(OutcomeFilter.NONE), pores.grades(), pores.densities());
		return () -> {
			ImprovementFigures.of(compared, OptionalDouble.of(0.2));
			changes.forEach(ChangeFigures::of);
		};
	}

	private static Runnable lumps(LumpDurations durations) {
		var lumps = durations.asked(OutcomeFilter.NONE, LocalDate.now());
		var cases = durations.cases(lumps);
		return () -> {
			LumpDurations.limits(LumpDurations.group("all", lumps));
			LumpEffects.of(cases);
		};
	}

	private static Runnable rates(Complications complications) {
		var read = complications.read(OutcomeFilter.NONE, null);
		return () -> read.rates(ComplicationGrouping.NONE);
	}

	private static Runnable charts(Complications complications) {
		var read = complications.read(OutcomeFilter.NONE, FindingKind.BRUISE);
		var clinic = read.rates(ComplicationGrouping.NONE).rows().get(0);
		var lots = read.rates(ComplicationGrouping.LOT).rows();
		return () -> {
			read.rates(ComplicationGrouping.NONE);
			read.rates(ComplicationGrouping.PRACTITIONER);
			Funnel.of(clinic, lots);
			read.surveillance(1000);
		};
	}

}
