package org.seriatim.exchange.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CountDownLatch;

import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.database.OneServiceAtATime;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress.Stage;
import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.Problem;
import org.seriatim.support.AtOnce;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.util.unit.DataSize;

import static org.assertj.core.api.Assertions.assertThat;

/** Imports as two services on one database see them. */
@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class ImportJobsTests {

	private static final ExchangeSettings SETTINGS = new ExchangeSettings(DataSize.ofMegabytes(1), 2,
			Duration.ofHours(24));

	@Autowired
	private JdbcClient database;

	@Autowired
	private PlatformTransactionManager transactions;

	@Autowired
	private OneServiceAtATime services;

	@Autowired
	private CurrentStaff staff;

	@Autowired
	private TestClock clock;

	@TempDir
	private Path data;

	private final CountDownLatch begun = new CountDownLatch(1);

	private final CountDownLatch looked = new CountDownLatch(1);

	private final List<ImportJobs> both = new ArrayList<>();

	private ImportResult result = new ImportResult.Taken(List.of(new ImportResult.FileCounts("patients.csv", 3, 1, 0),
			new ImportResult.FileCounts("series.csv", 2, 0, 5)), "digest of it");

	private ImportJobs one;

	private ImportJobs other;

	@BeforeEach
	void start() {
		this.one = service();
		this.other = service();
	}

	@AfterEach
	void stop() {
		this.looked.countDown();
		this.both.forEach(ImportJobs::destroy);
	}

	@Test
	void whatOneTakesTheOtherShowsAndTakesNoOther() throws IOException {
		assertThat(this.one.start(bundle(), true)).isTrue();
		AtOnce.await(this.begun);
		this.clock.advance(Duration.ofMinutes(5));
		var seen = this.other.last().orElseThrow();
		assertThat(seen.state()).isEqualTo(new ImportJob.Running(Stage.values()[1], "scars.csv", 4, 9));
		assertThat(seen.by()).isEqualTo("clinic_lead");
		assertThat(seen.update()).isTrue();
		assertThat(this.other.start(bundle(), false)).isFalse();
		this.looked.countDown();
		Awaitility.await().until(() -> !this.other.last().orElseThrow().isRunning());
		assertThat(this.other.last()).map(ImportJob::id).contains(seen.id());
		assertThat(this.other.last()).map(ImportJob::state)
			.contains(new ImportJob.Ended(this.result, this.clock.instant()));
		this.clock.advance(Duration.ofHours(25));
		assertThat(this.other.last()).isEmpty();
	}

	@Test
	void ofTwoAskedForInTheSameMomentOneIsToldThatTheOtherIsUnderWay() throws Exception {
		var first = bundle();
		var second = bundle();
		var started = new ConcurrentLinkedQueue<Boolean>();
		AtOnce.run(() -> started.add(this.one.start(first, false)), () -> started.add(this.other.start(second, false)));
		assertThat(started).containsExactlyInAnyOrder(true, false);
		this.looked.countDown();
		Awaitility.await().until(() -> !this.other.last().orElseThrow().isRunning());
		assertThat(this.one.last()).map(ImportJob::state)
			.contains(new ImportJob.Ended(this.result, this.clock.instant()));
	}

	@Test
	void whatWasWrongCanBeReadAtTheOtherAndIsForgottenInADay() throws IOException {
		var spool = new ProblemSpool.Writer(2);
		for (int line = 1; line < 4; line++) {
			spool.accept(new Problem("patients.csv", line, 2, "sex", "found; \"in quotes\"", "female"));
		}
		this.result = new ImportResult.Refused(spool.finish(), true);
		this.looked.countDown();
		this.one.start(bundle(), false);
		Awaitility.await().until(() -> !this.other.last().orElseThrow().isRunning());
		var refused = (ImportResult.Refused) ((ImportJob.Ended) this.other.last().orElseThrow().state()).result();
		assertThat(refused.complete()).isTrue();
		assertThat(refused.problems().count()).isEqualTo(3);
		assertThat(refused.problems().first()).hasSize(2);
		var all = new ArrayList<Problem>();
		refused.problems().forEach(all::add);
		assertThat(all).hasSize(3)
			.last()
			.isEqualTo(new Problem("patients.csv", 3, 2, "sex", "found; \"in quotes\"", "female"));
		assertThat(this.data.resolve("imports")).isDirectoryContaining("glob:**.csv");
		this.clock.advance(Duration.ofHours(25));
		this.other.last();
		assertThat(this.data.resolve("imports")).isEmptyDirectory();
	}

	@Test
	void anImportWhoseServiceWasKilledHasBrokenOff() {
		this.database.sql("insert into import_job (id, started_at, with_update) values (:id, :at, false)")
			.param("id", UUID.randomUUID())
			.param("at", this.clock.instant().minusSeconds(11).atOffset(ZoneOffset.UTC))
			.update();
		assertThat(this.other.last()).map(ImportJob::state).contains(new ImportJob.BrokenOff(this.clock.instant()));
	}

	private Path bundle() throws IOException {
		return Files.createTempFile(this.data, "bundle", ".zip");
	}

	private ImportJobs service() {
		BundleImport blocking = (bundle, update, progress) -> {
			progress.at(Stage.values()[1], "scars.csv", 4, 9);
			this.begun.countDown();
			AtOnce.await(this.looked);
			return this.result;
		};
		var jobs = new ImportJobs(blocking,
				new StoredImportJobs(this.database, this.transactions, new ImportFolder(this.data), SETTINGS),
				this.services, this.staff, this.clock, SETTINGS);
		this.both.add(jobs);
		return jobs;
	}

}
