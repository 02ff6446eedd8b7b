package org.seriatim.proof;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.List;

/** What a proof found, as a dated table that docs/proof.md can take over. */
final class ProofReport {

	private static final Path FOLDER = Path.of("target", "proof");

	private final Path file;

	private final StringBuilder text = new StringBuilder();

	ProofReport(String name, String title) {
		this.file = FOLDER.resolve(name + ".md");
		this.text.append("%s, %s, %d processors, Java %s, %s%n%n".formatted(title,
				LocalDateTime.now().truncatedTo(ChronoUnit.MINUTES), Runtime.getRuntime().availableProcessors(),
				System.getProperty("java.version"), System.getProperty("os.name")));
		this.text.append("| What | Found |\n| --- | --- |\n");
	}

	static ProofReport plain(String name, String title) {
		var report = new ProofReport(name, title);
		report.text.setLength(report.text.indexOf("| What"));
		return report;
	}

	ProofReport row(String what, Object found) {
		this.text.append("| ").append(what).append(" | ").append(found).append(" |\n");
		return this;
	}

	ProofReport line(String line) {
		this.text.append(line).append('\n');
		return this;
	}

	/** Writes it to the folder target/proof and to the output. */
	void write() {
		keep();
		System.out.println(this.text);
	}

	/** Writes it to the folder target/proof. */
	void keep() {
		try {
			Files.createDirectories(FOLDER);
			Files.writeString(this.file, this.text);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/** Seconds with one decimal: the shortest, the middle one and the longest. */
	static String spread(List<Duration> times) {
		if (times.isEmpty()) {
			return "–";
		}
		var sorted = times.stream().sorted().toList();
		return "%.1f to %.1f s, the middle one %.1f s".formatted(seconds(sorted.get(0)),
				seconds(sorted.get(sorted.size() - 1)), seconds(sorted.get(sorted.size() / 2)));
	}

	private static double seconds(Duration time) {
		return time.toMillis() / 1000.0;
	}

}
