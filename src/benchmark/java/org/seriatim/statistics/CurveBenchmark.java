package org.seriatim.statistics;

import java.util.List;
import java.util.concurrent.TimeUnit;

import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * The curve of lump durations from a thousand to a million lumps.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(value = 1, jvmArgs = "-Xmx2g")
public class CurveBenchmark {

	@Param({ "1000", "20000", "100000", "1000000" })
	private int lumps;

	@Param({ "0", "2" })
	private int decimals;

	private List<DurationInterval> durations = List.of();

	@Setup
	public void makeLumps() {
		this.durations = new BenchmarkLumps(this.lumps, this.decimals, 1).durations();
	}

	@Benchmark
	public Estimate<IntervalCensoredCurve> curve() {
		return IntervalCensoredCurve.of(this.durations);
	}

}
