package org.seriatim.backup.domain;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

import org.postgresql.PGConnection;
import org.seriatim.SeriatimApplication;
import org.seriatim.record.LongRecord;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.util.FileSystemUtils;

/**
 * How long a backup takes, as a multiple of what reading the same tables takes by
 * themselves: plain COPY in whatever order the rows lie, thrown away, in the same run, in
 * turn.
 */
final class BackupBenchmark {

	private static final int PATIENTS = Integer.getInteger("patients", 5_000);

	private static final int ROUNDS = Integer.getInteger("rounds", 5);

	private static final Passphrase PASSPHRASE = Passphrase.of("nine calm herons wade");

	private BackupBenchmark() {
	}

	public static void main(String[] args) throws Exception {
		var data = Files.createTempDirectory("seriatim-backup");
		try (var service = new SpringApplication(SeriatimApplication.class).run("--server.port=0",
				"--seriatim.data=" + data, "--logging.level.root=warn")) {
			var database = service.getBean(JdbcClient.class);
			LongRecord.insert(database, "B-", PATIENTS, 8, 4);
			measure(service, data);
		}
		finally {
			FileSystemUtils.deleteRecursively(data);
		}
		System.exit(0);
	}

	private static void measure(ConfigurableApplicationContext service, Path data) throws IOException, SQLException {
		Map<String, List<Long>> nanos = new LinkedHashMap<>();
		var file = data.resolve("clinic.backup");
		long bytes = 0;
		long size = 0;
		long rows = 0;
		for (int round = 0; round <= ROUNDS; round++) {
			var taken = new LinkedHashMap<String, Long>();
			long started = System.nanoTime();
			bytes = copy(service.getBean(OwnerConnections.class));
			taken.put("plain COPY, thrown away", System.nanoTime() - started);
			started = System.nanoTime();
			rows = service.getBean(MakeBackup.class).to(file, PASSPHRASE).rows();
			taken.put("backup, written and read back", System.nanoTime() - started);
			size = Files.size(file);
			started = System.nanoTime();
			service.getBean(CheckBackup.class).of(file, PASSPHRASE);
			taken.put("check", System.nanoTime() - started);
			Files.delete(file);
			if (round > 0) {
				taken.forEach((name, time) -> nanos.computeIfAbsent(name, (key) -> new ArrayList<>()).add(time));
			}
		}
		System.out.printf(Locale.ROOT, "%,d rows, %,d bytes of COPY text, %,d bytes of backup%n%n", rows, bytes, size);
		System.out.println("| What | Median s | MB of COPY text a second | Times plain COPY |");
		System.out.println("| --- | --- | --- | --- |");
		double plain = median(nanos.get("plain COPY, thrown away"));
		for (var entry : nanos.entrySet()) {
			double seconds = median(entry.getValue());
			System.out.printf(Locale.ROOT, "| %s | %.2f | %.0f | %.1f |%n", entry.getKey(), seconds,
					bytes / 1e6 / seconds, seconds / plain);
		}
	}

	private static long copy(OwnerConnections connections) throws SQLException, IOException {
		var counted = new OutputStream() {

			private long bytes;

			@Override
			public void write(int one) {
				this.bytes++;
			}

			@Override
			public void write(byte[] content, int offset, int length) {
				this.bytes += length;
			}

		};
		try (var connection = connections.open()) {
			var copy = connection.unwrap(PGConnection.class).getCopyAPI();
			for (var table : new Schema(connection, connections.history()).tables()) {
				copy.copyOut("copy %s to stdout".formatted(Schema.quoted(table.name())), counted);
			}
			connection.rollback();
		}
		return counted.bytes;
	}

	private static double median(List<Long> nanos) {
		var sorted = new ArrayList<>(nanos);
		Collections.sort(sorted);
		return sorted.get(sorted.size() / 2) / 1e9;
	}

}
