package org.seriatim.statistics;

import java.io.IOException;
import java.io.PrintWriter;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;

/**
 * Writes the lumps of the comparison with R as CSV, and beside them what the kernel needs
 * for them: the least and the median of 31 runs (7 of the largest)
 * after two seconds of processor time to warm up.
 */
final class ComparisonData {

	private static final long WARM_UP = 2_000_000_000L;

	private ComparisonData() {
	}

	public static void main(String[] arguments) throws IOException {
		Path folder = Files.createDirectories(Path.of(arguments[0]));
		BenchmarkLumps whole = new BenchmarkLumps(20_000, 0, 1);
		BenchmarkLumps fine = new BenchmarkLumps(20_000, 2, 1);
		write(folder.resolve("whole.csv"), whole);
		write(folder.resolve("fine.csv"), fine);
		Covariates covariates = whole.covariates();
		List<PatientDurations> patients = whole.patients();
		try (PrintWriter out = new PrintWriter(Files.newBufferedWriter(folder.resolve("kernel.csv")))) {
			out.println("task,wall,median,cpu,value");
			for (int decimals : new int[] { 0, 2 }) {
				for (int lumps = 1000; lumps <= 1_000_000; lumps *= 10) {
					BenchmarkLumps some = new BenchmarkLumps(lumps, decimals, 1);
					time(out, "curve-" + lumps + "-" + decimals, (lumps < 1_000_000) ? 31 : 7, () -> curve(some));
				}
			}
			time(out, "whole", 31, () -> curve(whole));
			time(out, "fine", 31, () -> curve(fine));
			time(out, "weibull", 31, () -> WeibullRegression.of(whole.durations(), covariates)
				.known()
				.orElseThrow()
				.logLikelihood());
			time(out, "bootstrap", 31,
					() -> CurveBootstrap.limits(patients, List.of(7.0), new BootstrapPlan(1, 1000, 0.95))
						.known()
						.orElseThrow()
						.present()
						.get(0)
						.low());
		}
	}

	private static double curve(BenchmarkLumps lumps) {
		return IntervalCensoredCurve.of(lumps.durations()).known().orElseThrow().logLikelihood();
	}

	private static void write(Path file, BenchmarkLumps lumps) throws IOException {
		try (PrintWriter out = new PrintWriter(Files.newBufferedWriter(file))) {
			out.println("left,right,layer,volume");
			List<DurationInterval> durations = lumps.durations();
			for (int i = 0; i < durations.size(); i++) {
				double[] x = lumps.covariates().rows().get(i);
				DurationInterval one = durations.get(i);
				out.printf(Locale.ROOT, "%s,%s,%s,%s%n", one.left(), one.isRightCensored() ? "Inf" : one.right(),
						x[0], x[1]);
			}
		}
	}

	private static void time(PrintWriter out, String task, int runs, Supplier<Double> computation) {
		var threads = ManagementFactory.getThreadMXBean();
		double[] wall = new double[runs];
		double[] cpu = new double[runs];
		double value = 0;
		// processor time, so that a busy machine does not cut the warm-up short
		long warm = threads.getCurrentThreadCpuTime() + WARM_UP;
		while (threads.getCurrentThreadCpuTime() < warm) {
			value = computation.get();
		}
		for (int run = 0; run < runs; run++) {
			long cpuStart = threads.getCurrentThreadCpuTime();
			long start = System.nanoTime();
			value = computation.get();
			wall[run] = (System.nanoTime() - start) / 1e9;
			cpu[run] = (threads.getCurrentThreadCpuTime() - cpuStart) / 1e9;
		}
		Arrays.sort(wall);
		Arrays.sort(cpu);
		out.printf(Locale.ROOT, "%s,%.6f,%.6f,%.6f,%.9f%n", task, wall[0], wall[runs / 2], cpu[runs / 2], value);
	}

}
