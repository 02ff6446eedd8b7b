package org.seriatim.access.domain;

import java.nio.file.Files;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import java.util.function.LongSupplier;

import org.seriatim.SeriatimApplication;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.util.FileSystemUtils;

/**
 * How long a million entries of the audit log take to verify: the whole service on its
 * embedded database in a folder of its own.
 * <p>
 * The baseline of the same run walks through the same rows in the same order, reads every
 * column and computes nothing: what no verification could do without.
 */
final class AuditLogBenchmark {

	private static final int ENTRIES = Integer.getInteger("entries", 1_000_000);

	private static final int BATCH = 5_000;

	private static final int RUNS = 3;

	private static final Instant FIRST = Instant.parse("2026-01-01T08:00:00Z");

	private AuditLogBenchmark() {
	}

	public static void main(String[] args) throws Exception {
		var data = Files.createTempDirectory("seriatim-audit-log");
		try (var service = new SpringApplication(SeriatimApplication.class).run("--server.port=0",
				"--seriatim.data=" + data, "--seriatim.audit.seal-every=0s", "--logging.level.root=warn")) {
			var anchor = new AuditAnchor(data);
			write(service);
			long sealing = System.nanoTime();
			service.getBean(SealAuditLog.class).all(anchor);
			sealing = System.nanoTime() - sealing;
			var database = service.getBean(JdbcTemplate.class);
			var transaction = new TransactionTemplate(service.getBean(PlatformTransactionManager.class));
			var verification = service.getBean(VerifyAuditLog.class);
			long[] walks = new long[RUNS];
			long[] verifications = new long[RUNS];
			for (int run = 0; run < RUNS; run++) {
				walks[run] = timed(() -> transaction.execute((status) -> walk(database)));
				verifications[run] = timed(() -> verified(verification, anchor));
			}
			report(sealing, walks, verifications);
		}
		finally {
			FileSystemUtils.deleteRecursively(data);
		}
		System.exit(0);
	}

	private static void write(ConfigurableApplicationContext service) {
		var database = service.getBean(JdbcTemplate.class);
		var marks = new AuditMarks(service.getBean(ServiceKey.class));
		var random = new Random(4);
		var patients = new UUID[5_000];
		Arrays.setAll(patients, (at) -> new UUID(random.nextLong(), random.nextLong()));
		for (int from = 0; from < ENTRIES; from += BATCH) {
			var rows = new ArrayList<Object[]>();
			for (int at = from; at < Math.min(from + BATCH, ENTRIES); at++) {
				var patient = patients[random.nextInt(patients.length)];
				var entry = new AuditEntry(FIRST.plusSeconds(at), null, "opened", "series",
						new UUID(random.nextLong(), random.nextLong()), patient, null, "sign_in",
						new UUID(random.nextLong(), random.nextLong()), null, "192.0.2." + random.nextInt(256), null,
						new UUID(random.nextLong(), random.nextLong()));
				rows.add(new Object[] { OffsetDateTime.ofInstant(entry.at(), ZoneOffset.UTC), entry.action(),
						entry.kind(), entry.entry(), entry.patient(), entry.origin(), entry.originId(), entry.address(),
						entry.uid(), marks.mark(entry.content()) });
			}
			database.batchUpdate("""
					insert into audit_entry (at, action, kind, entry_id, patient_id, origin, origin_id, address, uid, mark)
					values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""", rows);
		}
		database.update("insert into audit_waiting select id from audit_entry a where not exists "
				+ "(select from audit_waiting w where w.entry_id = a.id)");
	}

	private static long timed(LongSupplier work) {
		long started = System.nanoTime();
		long rows = work.getAsLong();
		long taken = System.nanoTime() - started;
		if (rows < ENTRIES) {
			throw new IllegalStateException("only " + rows + " entries were seen");
		}
		return taken;
	}

	private static Long walk(JdbcTemplate database) {
		return database.query((connection) -> {
			var statement = connection.prepareStatement("select s.position, s.sealed_at, s.from_before, s.hash, "
					+ AuditEntry.COLUMNS
					+ " from audit_seal s left join audit_entry e on e.id = s.entry_id order by s.position");
			statement.setFetchSize(BATCH);
			return statement;
		}, (rows) -> {
			long seen = 0;
			int columns = rows.getMetaData().getColumnCount();
			while (rows.next()) {
				for (int column = 1; column <= columns; column++) {
					rows.getObject(column);
				}
				seen++;
			}
			return seen;
		});
	}

	private static long verified(VerifyAuditLog verification, AuditAnchor anchor) {
		var verdict = verification.of(anchor.read(), 1);
		verdict.fault().ifPresent((fault) -> {
			throw new IllegalStateException(fault.sentence());
		});
		return Optional.of(verdict).map(AuditVerdict::sealed).orElseThrow();
	}

	private static void report(long sealing, long[] walks, long[] verifications) {
		Arrays.sort(walks);
		Arrays.sort(verifications);
		double walk = walks[RUNS / 2] / 1e9;
		double verification = verifications[RUNS / 2] / 1e9;
		System.out.printf(Locale.ROOT, "%n%,d entries; median of %d runs in turn%n%n", ENTRIES, RUNS);
		System.out.println("| What | Seconds | Times the walk alone |");
		System.out.println("| --- | --- | --- |");
		System.out.printf(Locale.ROOT, "| walk through all rows (baseline) | %.1f | 1.0 |%n", walk);
		System.out.printf(Locale.ROOT, "| verify-log | %.1f | %.1f |%n", verification, verification / walk);
		System.out.printf(Locale.ROOT, "| sealing all at once (once only) | %.1f | %.1f |%n", sealing / 1e9,
				sealing / 1e9 / walk);
	}

}
