package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.seriatim.finding.FindingKind;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Invented clinics in which nothing is planted: how often do the charts cry wolf? And one
 * in which something is.
 */
class FalseAlarmTests {

	private static final double RATE = 0.15;

	private static final int CLINICS = 100;

	private static final int PRACTITIONERS = 10;

	private static final int PATIENTS_OF_EACH = 60;

	private final Random random = new Random(20260101);

	/**
	 * Patients differ: each has a probability of their own, drawn from a beta
	 * distribution with an intraclass correlation of 0.1, so that sessions of one patient
	 * are alike. Of 1,000 practitioners 5 % lie outside of 95 % limits by chance.
	 */
	@Test
	void funnelsFlagOneInTwentyWhereNothingIsPlanted() {
		int flagged = 0;
		for (int clinic = 0; clinic < CLINICS; clinic++) {
			flagged += (int) funnel(1).points()
				.stream()
				.filter((point) -> point.place() != Funnel.Place.WITHIN)
				.count();
		}
		assertThat(flagged / (double) (CLINICS * PRACTITIONERS)).isBetween(0.035, 0.065);
	}

	/** One practitioner at twice the rate lies beyond the limits most times. */
	@Test
	void funnelsFindAPractitionerAtTwiceTheRate() {
		int found = 0;
		for (int clinic = 0; clinic < 50; clinic++) {
			found += funnel(2).points()
				.stream()
				.anyMatch((point) -> point.unit().equals("p0")
						&& (point.place() == Funnel.Place.ABOVE_95 || point.place() == Funnel.Place.ABOVE_998)) ? 1 : 0;
		}
		assertThat(found).isGreaterThan(40);
	}

	/**
	 * 200,000 sessions at a constant rate with a threshold for one false alarm in 500:
	 * 400 alarms, give or take a fifth.
	 */
	@Test
	void chartsAlarmAsSeldomAsTheyWereDesignedTo() {
		var sessions = new ArrayList<Surveillance.Treated>();
		var day = LocalDate.of(2020, 1, 1);
		for (int i = 0; i < 200_000; i++) {
			sessions.add(new Surveillance.Treated("all", day, this.random.nextDouble() < RATE));
		}
		var charts = Surveillance.of(sessions, 500);
		assertThat(charts.runLength()).isGreaterThanOrEqualTo(500);
		double designed = sessions.size() / charts.runLength();
		assertThat(charts.charts().get(0).signalDays().size()).isBetween((int) (0.8 * designed),
				(int) (1.2 * designed));
	}

	private Funnel funnel(double timesForTheFirst) {
		var followed = new ArrayList<SessionRates.Followed>();
		var found = new ArrayList<SessionRates.Found>();
		for (int practitioner = 0; practitioner < PRACTITIONERS; practitioner++) {
			double rate = RATE * ((practitioner == 0) ? timesForTheFirst : 1);
			for (int patient = 0; patient < PATIENTS_OF_EACH; patient++) {
				int sessions = 1 + this.random.nextInt(5);
				double own = beta(9 * rate, 9 * (1 - rate));
				int events = 0;
				for (int session = 0; session < sessions; session++) {
					events += (this.random.nextDouble() < own) ? 1 : 0;
				}
				add(followed, found, "p" + practitioner, practitioner + "-" + patient, sessions, events);
				add(followed, found, "all", practitioner + "-" + patient, sessions, events);
			}
		}
		var rates = SessionRates.of(followed, found, List.of(FindingKind.BRUISE)).ofKind(FindingKind.BRUISE);
		var clinic = rates.remove("all");
		return Funnel.of(clinic, rates.values());
	}

	private static void add(List<SessionRates.Followed> followed, List<SessionRates.Found> found, String group,
			String patient, int sessions, int events) {
		followed.add(new SessionRates.Followed(group, patient, sessions, 0));
		if (events > 0) {
			found.add(new SessionRates.Found(group, patient, FindingKind.BRUISE, events, events, 0));
		}
	}

	/** A ratio of two gamma variates (Marsaglia, Tsang 2000). */
	private double beta(double a, double b) {
		double x = gamma(a);
		return x / (x + gamma(b));
	}

	private double gamma(double shape) {
		if (shape < 1) {
			return gamma(shape + 1) * Math.pow(this.random.nextDouble(), 1 / shape);
		}
		double d = shape - 1 / 3.0;
		while (true) {
			double x = this.random.nextGaussian();
			double v = Math.pow(1 + x / Math.sqrt(9 * d), 3);
			if (v > 0 && Math.log(this.random.nextDouble()) < x * x / 2 + d - d * v + d * Math.log(v)) {
				return d * v;
			}
		}
	}

}
