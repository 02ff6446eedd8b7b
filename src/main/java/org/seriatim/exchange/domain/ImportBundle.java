package org.seriatim.exchange.domain;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.Types;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.RecordsImported;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportProgress.Stage;
import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.ImportResult.FileCounts;
import org.seriatim.exchange.Problem;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Takes a bundle in one transaction: stage all rows, ask all rules, and only when none is
 * broken write what is new or changed.
 */
@Service
class ImportBundle implements BundleImport {

	private static final Logger logger = LoggerFactory.getLogger(ImportBundle.class);

	/** What a version that an import makes says of itself. */
	static final String REASON = "imported";

	/**
	 * From this many written rows on the planner's picture of the tables is refreshed
	 * before others build on them in the same transaction.
	 */
	private static final long MANY_ROWS = 5_000;

	private final BundleSections sections;

	private final JdbcTemplate jdbc;

	private final PlatformTransactionManager transactions;

	private final StaffDirectory staffDirectory;

	private final CurrentStaff currentStaff;

	private final AuditLog auditLog;

	private final ApplicationEventPublisher events;

	private final Clock clock;

	private final ExchangeSettings settings;

	ImportBundle(BundleSections sections, JdbcTemplate jdbc, PlatformTransactionManager transactions,
			StaffDirectory staffDirectory, CurrentStaff currentStaff, AuditLog auditLog,
			ApplicationEventPublisher events, Clock clock, ExchangeSettings settings) {
		this.sections = sections;
		this.jdbc = jdbc;
		this.transactions = transactions;
		this.staffDirectory = staffDirectory;
		this.currentStaff = currentStaff;
		this.auditLog = auditLog;
		this.events = events;
		this.clock = clock;
		this.settings = settings;
	}

	/** The same with other limits. */
	ImportBundle limitedBy(ExchangeSettings limits) {
		return new ImportBundle(this.sections, this.jdbc, this.transactions, this.staffDirectory, this.currentStaff,
				this.auditLog, this.events, this.clock, limits);
	}

	@Override
	public ImportResult take(Path bundle, boolean update, ImportProgress progress) {
		try (BundleSource source = BundleSource.of(bundle)) {
			return new TransactionTemplate(this.transactions).execute((status) -> {
				ImportResult result = take(source, update, progress);
				if (result instanceof ImportResult.Refused) {
					status.setRollbackOnly();
				}
				return result;
			});
		}
		catch (UnreadableBundle ex) {
			return new ImportResult.Refused(ProblemSpool.of(ex.problem(), this.settings.shownProblems()), false);
		}
		catch (DataIntegrityViolationException | ConcurrencyFailureException ex) {
			// All rules of the tables are asked before anything is written, so somebody
			// else
			// wrote something meanwhile. The message names tables and rules, no values.
			logger.warn("An import was undone by the database", ex);
			Problem changed = new Problem(UnreadableBundle.WHOLE_BUNDLE, null, null, null,
					"records that somebody changed while the bundle was taken", "the same import once more");
			return new ImportResult.Refused(ProblemSpool.of(changed, this.settings.shownProblems()), true);
		}
		catch (IOException ex) {
			throw new IllegalStateException("a bundle could not be closed", ex);
		}
	}

	private ImportResult take(BundleSource source, boolean update, ImportProgress progress) {
		// Two imports at once could each be right and be wrong together.
		this.jdbc.execute("select pg_advisory_xact_lock(hashtext('exchange bundle'))");
		Staging staging = new Staging(this.jdbc, this.sections.inOrder());
		staging.begin();
		Intake intake = new Intake(source, this.sections.inOrder(), staging, progress,
				this.settings.largestBundle().toBytes());
		boolean complete;
		try {
			complete = intake.read();
		}
		catch (UnreadableBundle ex) {
			staging.add(ex.problem());
			complete = false;
		}
		if (complete) {
			check(staging, update, progress);
		}
		if (staging.hasProblems()) {
			ProblemSpool.Writer spool = new ProblemSpool.Writer(this.settings.shownProblems());
			staging.forEachProblem(spool);
			return new ImportResult.Refused(spool.finish(), complete);
		}
		return write(staging, intake.digest(), progress);
	}

	private void check(Staging staging, boolean update, ImportProgress progress) {
		List<BundleSection> inOrder = this.sections.inOrder();
		for (int i = 0; i < inOrder.size(); i++) {
			BundleSection section = inOrder.get(i);
			progress.at(Stage.CHECKING, section.file().name(), i, 2L * inOrder.size());
			staging.checkKeys(section.file());
			staging.match(section);
			if (!update) {
				staging.checkUnchanged(section.file());
			}
		}
		for (int i = 0; i < inOrder.size(); i++) {
			BundleSection section = inOrder.get(i);
			progress.at(Stage.CHECKING, section.file().name(), inOrder.size() + i, 2L * inOrder.size());
			staging.checkReferences(section.file());
			for (BundleCheck check : section.checks()) {
				staging.check(check);
			}
		}
	}

	private ImportResult write(Staging staging, String digest, ImportProgress progress) {
		Instant now = this.clock.instant();
		List<BundleSection> inOrder = this.sections.inOrder();
		List<FileCounts> counts = new ArrayList<>();
		this.staffDirectory.named(staging.staff());
		this.jdbc.execute("set constraints all deferred");
		for (int i = 0; i < inOrder.size(); i++) {
			BundleSection section = inOrder.get(i);
			progress.at(Stage.WRITING, section.file().name(), i, inOrder.size());
			FileCounts count = staging.counts(section.file());
			if (count.added() + count.changed() > 0) {
				write(section, now);
			}
			counts.add(count);
		}
		ImportResult.Taken taken = new ImportResult.Taken(counts, digest);
		long written = taken.added() + taken.changed();
		if (written > 0) {
			if (written >= MANY_ROWS) {
				this.jdbc.execute("analyze");
			}
			progress.at(Stage.FOLLOWING_UP, "", 0, 1);
			this.events.publishEvent(new RecordsImported(taken.added(), taken.changed(), now));
		}
		this.auditLog.record(Action.IMPORTED, "bundle", null, null, "sha256 %s, %d added, %d changed, %d unchanged"
			.formatted(digest, taken.added(), taken.changed(), taken.unchanged()));
		return taken;
	}

	private void write(BundleSection section, Instant now) {
		@Nullable UUID by = this.currentStaff.id().map(StaffId::value).orElse(null);
		JdbcClient.create(this.jdbc)
			.sql(section.write())
			.param("recorded_at", now.atOffset(ZoneOffset.UTC))
			.param("recorded_by", by, Types.OTHER)
			.param("reason", REASON)
			.update();
	}

}
