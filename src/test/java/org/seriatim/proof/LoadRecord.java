package org.seriatim.proof;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.stream.Collectors;

import org.seriatim.proof.Person.Answer;

/**
 * How long each page took, and every ten seconds what the service held: memory of the
 * process and of its objects, collections of garbage, connections, memory of PostgreSQL.
 */
final class LoadRecord {

	private static final Duration EVERY = Duration.ofSeconds(10);

	private final long begun = System.nanoTime();

	private final List<Request> requests = Collections.synchronizedList(new ArrayList<>());

	private final List<Sample> samples = new ArrayList<>();

	private final List<String> faults = Collections.synchronizedList(new ArrayList<>());

	private record Request(long second, String page, long millis, int status) {
	}

	/**
	 * What was held at a moment; memory in MiB.
	 *
	 * @param pauses collections of garbage since the start
	 * @param pausedMs how long they took in all
	 */
	private record Sample(long second, long process, long heap, long pauses, long pausedMs, long connections,
			long active, long postgres) {
	}

	/** Somebody whose every page is timed, with a pause after it. */
	static final class Asked {

		private final Person person;

		private final LoadRecord record;

		private final Runnable pause;

		Asked(Person person, LoadRecord record, Runnable pause) {
			this.person = person;
			this.record = record;
			this.pause = pause;
		}

		private interface Request {

			Answer send() throws IOException;

		}

		Answer get(String page, String path) throws IOException {
			return timed("GET " + page, () -> this.person.get(path));
		}

		Answer post(String page, String path, Map<String, String> fields) throws IOException {
			return timed("POST " + page, () -> this.person.post(path, fields));
		}

		Answer upload(String page, String path, Map<String, String> fields, String name, byte[] file)
				throws IOException {
			return timed("POST " + page, () -> this.person.upload(path, fields, "file", name, file));
		}

		private Answer timed(String page, Request request) throws IOException {
			var begun = System.nanoTime();
			var answer = request.send();
			this.record.add(page, System.nanoTime() - begun, answer);
			this.pause.run();
			return answer;
		}

	}

	private void add(String page, long nanos, Answer answer) {
		this.requests.add(new Request(second(), page, TimeUnit.NANOSECONDS.toMillis(nanos), answer.status()));
		if (answer.status() >= 400) {
			fault(page + " was answered with " + answer.status());
		}
	}

	void fault(String words) {
		this.faults.add(words);
	}

	/** Faults and how often each was seen. */
	Map<String, Long> faults() {
		return this.faults.stream()
			.collect(Collectors.groupingBy((words) -> words, TreeMap::new, Collectors.counting()));
	}

	private long second() {
		return TimeUnit.NANOSECONDS.toSeconds(System.nanoTime() - this.begun);
	}

	void sample(KillableService service, BooleanSupplier over) {
		while (!over.getAsBoolean()) {
			try {
				this.samples.add(sample(service));
			}
			catch (IOException | SQLException ex) {
				fault("no sample: " + ex);
			}
			var next = System.nanoTime() + EVERY.toNanos();
			while (!over.getAsBoolean() && System.nanoTime() < next) {
				WritingLoad.pass(Duration.ofMillis(100));
			}
		}
	}

	private Sample sample(KillableService service) throws IOException, SQLException {
		var counters = counters(service.pid());
		var heap = counters.entrySet()
			.stream()
			.filter((counter) -> counter.getKey().matches("sun\\.gc\\.generation\\.\\d\\.space\\.\\d\\.used"))
			.mapToLong(Map.Entry::getValue)
			.sum();
		long pauses = 0;
		long ticks = 0;
		for (var counter : counters.entrySet()) {
			pauses += counter.getKey().matches("sun\\.gc\\.collector\\.\\d\\.invocations") ? counter.getValue() : 0;
			ticks += counter.getKey().matches("sun\\.gc\\.collector\\.\\d\\.time") ? counter.getValue() : 0;
		}
		var frequency = Math.max(1, counters.getOrDefault("sun.os.hrt.frequency", 1_000_000_000L));
		var connections = connections(service.data());
		return new Sample(second(), memory(service.pid(), "VmRSS"), heap >> 20, pauses, ticks * 1_000 / frequency,
				connections[0], connections[1], postgres(service.data()));
	}

	/** The counters that the Java machine keeps of itself; none without its tools. */
	private static Map<String, Long> counters(long pid) throws IOException {
		var tool = Path.of(System.getProperty("java.home"), "bin", "jcmd");
		var counters = new TreeMap<String, Long>();
		if (!Files.exists(tool)) {
			return counters;
		}
		var process = new ProcessBuilder(tool.toString(), Long.toString(pid), "PerfCounter.print").start();
		process.inputReader().lines().forEach((line) -> {
			var parts = line.split("=", 2);
			if (parts.length == 2 && parts[1].matches("\\d+")) {
				counters.put(parts[0], Long.parseLong(parts[1]));
			}
		});
		return counters;
	}

	private static long[] connections(Path data) throws IOException, SQLException {
		try (var connection = DriverManager.getConnection(
				"jdbc:postgresql://127.0.0.1:" + property(data.resolve("service.properties"), "port") + "/seriatim",
				"postgres", property(data.resolve("postgresql/credentials.properties"), "postgres"));
				var statement = connection.createStatement();
				var answer = statement.executeQuery("""
						select count(*), count(*) filter (where state <> 'idle') from pg_stat_activity
						where usename = 'seriatim_service'""")) {
			answer.next();
			return new long[] { answer.getLong(1), answer.getLong(2) };
		}
	}

	private static String property(Path file, String name) throws IOException {
		var content = new Properties();
		try (var in = Files.newBufferedReader(file)) {
			content.load(in);
		}
		return content.getProperty(name);
	}

	/** In MiB; 0 where the system does not show it. */
	private static long memory(long pid, String what) throws IOException {
		var status = Path.of("/proc", Long.toString(pid), "status");
		return Files.exists(status) ? Files.readAllLines(status)
			.stream()
			.filter((line) -> line.startsWith(what + ":"))
			.mapToLong((line) -> Long.parseLong(line.replaceAll("\\D", "")) >> 10)
			.sum() : 0;
	}

	/** Of the server and its workers, each part of what they share once. */
	private static long postgres(Path data) throws IOException {
		var pid = Long.parseLong(Files.readAllLines(data.resolve("postgresql/postmaster.pid")).get(0));
		var server = ProcessHandle.of(pid).orElseThrow();
		long kib = proportional(pid);
		for (var worker : server.descendants().toList()) {
			kib += proportional(worker.pid());
		}
		return kib >> 10;
	}

	private static long proportional(long pid) {
		try {
			return Files.readAllLines(Path.of("/proc", Long.toString(pid), "smaps_rollup"))
				.stream()
				.filter((line) -> line.startsWith("Pss:"))
				.mapToLong((line) -> Long.parseLong(line.replaceAll("\\D", "")))
				.sum();
		}
		catch (IOException ex) {
			return 0;
		}
	}

	/** Writes two tables and a summary of both to the folder target/proof. */
	void write(String title) {
		var report = ProofReport.plain("load", "Load: " + title);
		var all = List.copyOf(this.requests);
		var seconds = Math.max(1, second());
		report.line("%d pages, %.1f in a second.\n".formatted(all.size(), (double) all.size() / seconds))
			.line("| Page | Times | Median ms | 95 % ms | 99 % ms | Longest ms | Status 400 and above |")
			.line("| --- | --- | --- | --- | --- | --- | --- |");
		all.stream()
			.collect(Collectors.groupingBy(Request::page, TreeMap::new, Collectors.toList()))
			.forEach((page, ofPage) -> report.line(line(page, ofPage)));
		report.line(
				"\n| Second | Process MiB | Heap MiB | Collections | Collecting ms | Connections | At work | PostgreSQL MiB |")
			.line("| --- | --- | --- | --- | --- | --- | --- | --- |");
		var step = Math.max(1, this.samples.size() / 12);
		for (int i = 0; i < this.samples.size(); i += step) {
			var at = this.samples.get(i);
			report.line("| %d | %d | %d | %d | %d | %d | %d | %d |".formatted(at.second(), at.process(), at.heap(),
					at.pauses(), at.pausedMs(), at.connections(), at.active(), at.postgres()));
		}
		report.write();
		try {
			Files.write(Path.of("target", "proof", "load-requests.csv"),
					lines("second,page,ms,status",
							all.stream()
								.map((one) -> one.second() + "," + one.page() + "," + one.millis() + "," + one.status())
								.toList()));
			Files.write(Path.of("target", "proof", "load-samples.csv"), lines(
					"second,process_mib,heap_mib,collections,collecting_ms,connections,connections_at_work,postgresql_mib",
					this.samples.stream()
						.map((at) -> at.second() + "," + at.process() + "," + at.heap() + "," + at.pauses() + ","
								+ at.pausedMs() + "," + at.connections() + "," + at.active() + "," + at.postgres())
						.toList()));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static List<String> lines(String header, List<String> rows) {
		var lines = new ArrayList<>(List.of(header));
		lines.addAll(rows);
		return lines;
	}

	private static String line(String page, List<Request> ofPage) {
		var times = ofPage.stream().mapToLong(Request::millis).sorted().toArray();
		return "| %s | %d | %d | %d | %d | %d | %d |".formatted(page, times.length, share(times, 0.5),
				share(times, 0.95), share(times, 0.99), times[times.length - 1],
				ofPage.stream().filter((one) -> one.status() >= 400).count());
	}

	/** The shortest time within which this share was answered. */
	private static long share(long[] sorted, double share) {
		return Arrays.stream(sorted).skip((long) Math.ceil(share * sorted.length) - 1).findFirst().orElse(0);
	}

}
