package org.seriatim.backup.domain;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.stereotype.Service;
import org.springframework.transaction.support.TransactionOperations;

/** Makes a backup and keeps what became of it, also when nothing did. */
@Service
class RunBackup {

	private static final Logger logger = LoggerFactory.getLogger(RunBackup.class);

	private static final String UNEXPECTED = "An unexpected fault; the log of the service says more.";

	private final MakeBackup backup;

	private final BackupRuns runs;

	private final AuditLog audit;

	private final CurrentStaff current;

	private final TransactionOperations transactions;

	private final Clock clock;

	RunBackup(MakeBackup backup, BackupRuns runs, AuditLog audit, CurrentStaff current,
			TransactionOperations transactions, Clock clock) {
		this.backup = backup;
		this.runs = runs;
		this.audit = audit;
		this.current = current;
		this.transactions = transactions;
		this.clock = clock;
	}

	/**
	 * Where a backup is to go, and what opens it.
	 */
	record Target(Path file, Passphrase passphrase) {
	}

	/**
	 * @param target asked for first; that it cannot be said is why there is no backup
	 * @throws BackupRefused if there is no backup now, with the reason
	 */
	Contents run(BackupRun.How how, Supplier<Target> target) {
		Instant started = this.clock.instant();
		String name = "";
		try {
			Target asked = target.get();
			name = String.valueOf(asked.file().getFileName());
			Contents contents = this.backup.to(asked.file(), asked.passphrase());
			keep(started, how, null, name, size(asked.file()),
					"made, %d rows, %d files".formatted(contents.rows(), contents.files()));
			return contents;
		}
		catch (BackupRefused ex) {
			if (ex.reason() != BackupRefused.Reason.BUSY) {
				logger.warn("No backup was made: {}", ex.getMessage());
				keep(started, how, ex.getMessage(), name, null, "failed");
			}
			throw ex;
		}
		catch (RuntimeException | Error ex) {
			logger.error("A backup broke off", ex);
			keep(started, how, UNEXPECTED, name, null, "failed");
			throw new BackupRefused(BackupRefused.Reason.OTHER, UNEXPECTED, ex);
		}
	}

	/** A backup was made, but what belongs to it was not done. */
	void failed(BackupRun.How how, String reason) {
		keep(this.clock.instant(), how, reason, "", null, "failed");
	}

	/** The retention has removed backups. */
	void removed(int count) {
		this.transactions.executeWithoutResult((status) -> this.audit.record(AuditLog.Action.ADMINISTERED, "backup",
				null, null, "removed %d older".formatted(count)));
	}

	private void keep(Instant started, BackupRun.How how, @Nullable String reason, String name, @Nullable Long bytes,
			String detail) {
		this.transactions.executeWithoutResult((status) -> {
			this.runs.add(new BackupRun(started, this.clock.instant(), how, reason, name, bytes, ""),
					this.current.id().orElse(null));
			this.audit.record(AuditLog.Action.ADMINISTERED, "backup", null, null, detail);
		});
	}

	private static long size(Path file) {
		try {
			return Files.size(file);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
