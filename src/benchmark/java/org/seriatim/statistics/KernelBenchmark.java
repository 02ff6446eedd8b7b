package org.seriatim.statistics;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * What a page may ask for beside the curve, on 20,000 lumps of 5,000 patients.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(value = 1, jvmArgs = "-Xmx2g")
public class KernelBenchmark {

	private static final List<Double> DAYS = List.of(3.0, 7.0, 14.0, 28.0);

	private final BenchmarkLumps lumps = new BenchmarkLumps(20_000, 0, 1);

	private final Covariates covariates = this.lumps.covariates();

	private final List<PatientDurations> patients = this.lumps.patients();

	private final List<PatientDurations> clinic = new BenchmarkLumps(640, 0, 1).patients();

	private final List<Clustered<Double>> values = new ArrayList<>();

	private final List<String> patientOf = new ArrayList<>();

	@Setup
	public void makeValues() {
		for (int i = 0; i < 20_000; i++) {
			String patient = "p" + i / BenchmarkLumps.LUMPS_OF_A_PATIENT;
			this.patientOf.add(patient);
			this.values.add(new Clustered<>(patient, this.lumps.durations().get(i).left()));
		}
	}

	@Benchmark
	public Estimate<CurveLimits> bootstrapOfTwentyThousandLumps() {
		return CurveBootstrap.limits(this.patients, DAYS, new BootstrapPlan(1, 1000, 0.95));
	}

	@Benchmark
	public Estimate<CurveLimits> bootstrapOfAClinic() {
		return CurveBootstrap.limits(this.clinic, DAYS, new BootstrapPlan(1, 1000, 0.95));
	}

	@Benchmark
	public Estimate<WeibullRegression> weibull() {
		return WeibullRegression.of(this.lumps.durations(), this.covariates);
	}

	@Benchmark
	public Estimate<WeibullRegression> weibullWithPatients() {
		return WeibullRegression.clustered(this.lumps.durations(), this.covariates, this.patientOf);
	}

	@Benchmark
	public Estimate<ClusterRobustRegression> clusteredMean() {
		return ClusterRobustRegression.mean(this.values);
	}

	@Benchmark
	public Estimate<RandomInterceptModel> randomIntercepts() {
		return RandomInterceptModel.ofPatients(this.values, this.covariates);
	}

	@Benchmark
	public Estimate<BernoulliCusum.Threshold> cusumThreshold() {
		return BernoulliCusum.thresholdFor(0.05, 2, 1000, 0.01);
	}

}
