package org.seriatim.backup.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Future;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.InstallationKey;
import org.seriatim.access.PassphraseRules;
import org.seriatim.access.Role;
import org.seriatim.database.OneServiceAtATime;
import org.seriatim.support.AtOnce;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.MessageSource;
import org.springframework.core.env.StandardEnvironment;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.support.TransactionOperations;

import static org.assertj.core.api.Assertions.assertThat;

/** Backups that are made while nobody thinks of them. */
@PageTest
class ScheduledBackupsTests {

	@Autowired
	private OwnerConnections connections;

	@Autowired
	private InstallationKey key;

	@Autowired
	private CheckBackup check;

	@Autowired
	private BackupRuns runs;

	@Autowired
	private AccountRegister accounts;

	@Autowired
	private PassphraseRules rules;

	@Autowired
	private MessageSource messages;

	@Autowired
	private AuditLog audit;

	@Autowired
	private CurrentStaff current;

	@Autowired
	private TransactionOperations transactions;

	@Autowired
	private OneServiceAtATime services;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private TestClock clock;

	@TempDir
	private Path folder;

	private Path disk;

	private Path passphrase;

	private BackupJobs jobs;

	private BackupJobs otherJobs;

	@BeforeEach
	void startTheService() throws IOException {
		this.disk = Files.createDirectory(this.folder.resolve("disk"));
		this.passphrase = Files.writeString(this.folder.resolve("passphrase"), "nine calm herons wade");
		var settings = new BackupSettings(this.disk, this.passphrase, List.of(LocalTime.of(2, 30)), 2, 0, 0,
				Duration.ofDays(2));
		var installation = new InstallationSettings(this.folder.resolve("data"), null);
		var make = new MakeBackup(this.connections, installation, settings, this.key, this.check, this.clock,
				new KeyDerivation(2));
		this.jobs = service(make, settings, installation);
		this.otherJobs = service(make, settings, installation);
	}

	private BackupJobs service(MakeBackup make, BackupSettings settings, InstallationSettings installation) {
		return new BackupJobs(new RunBackup(make, this.runs, this.audit, this.current, this.transactions, this.clock),
				this.runs, new BackupFolder(settings, installation),
				new Passphrases(new StandardEnvironment(), settings, this.rules, this.messages), settings,
				this.accounts, this.services, this.clock);
	}

	@AfterEach
	void stopTheService() {
		this.jobs.destroy();
		this.otherJobs.destroy();
	}

	@Test
	void oneIsMadeEachDayAndOldOnesGo() throws Exception {
		openAccount();
		at("2026-11-18T02:29:00Z");
		assertThat(look()).as("for the night before, in which the machine slept").isTrue();
		assertThat(look()).isFalse();
		at("2026-11-18T02:30:00Z");
		assertThat(look()).isTrue();
		at("2026-11-19T02:29:59Z");
		assertThat(look()).isFalse();
		at("2026-11-19T08:00:00Z");
		assertThat(look()).isTrue();
		at("2026-11-20T02:30:30Z");
		Files.writeString(this.disk.resolve("somebody's.backup"), "of another program");
		Files.writeString(this.disk.resolve(MakeBackup.DRAFT + "killed"), "half");
		assertThat(look()).isTrue();
		assertThat(names()).containsExactlyInAnyOrder("seriatim-20261119T080000Z.backup",
				"seriatim-20261120T023030Z.backup", "somebody's.backup");
		assertThat(this.jdbc.queryForList("select detail from audit_entry where kind = 'backup' order by id desc",
				String.class))
			.first()
			.isEqualTo("removed 1 older");
		assertThat(this.runs.last(9)).hasSize(4).allMatch(BackupRun::isGood);
	}

	@Test
	void ofTwoServicesThatFindItDueOneMakesIt() throws Exception {
		openAccount();
		at("2026-11-20T02:30:00Z");
		Runnable one = () -> wait(this.jobs.startIfDue());
		Runnable other = () -> wait(this.otherJobs.startIfDue());
		AtOnce.run(one, other);
		assertThat(names()).hasSize(1);
		assertThat(this.runs.last(9)).singleElement().matches(BackupRun::isGood);
	}

	@Test
	void whatAnotherServiceMakesIsSeen() throws Exception {
		openAccount();
		assertThat(this.jobs.isRunningElsewhere()).isFalse();
		try (var other = this.connections.open(); var statement = other.createStatement()) {
			statement.execute("select pg_advisory_lock(%d)".formatted(MakeBackup.ONE_AT_A_TIME));
			assertThat(this.jobs.isRunningElsewhere()).isTrue();
			assertThat(this.jobs.start(Duration.ofMinutes(1))).isFalse();
			statement.execute("select pg_advisory_unlock(%d)".formatted(MakeBackup.ONE_AT_A_TIME));
			other.commit();
		}
		assertThat(this.jobs.isRunningElsewhere()).isFalse();
	}

	@Test
	void aFailureIsKeptWithItsReasonAndTriedAgainAfterAnHour() throws Exception {
		openAccount();
		Files.delete(this.disk);
		at("2026-11-20T02:30:00Z");
		assertThat(look()).isTrue();
		assertThat(this.runs.last(1)).singleElement()
			.satisfies((run) -> assertThat(run.reason()).contains("no folder " + this.disk, "another disk"));
		assertThat(this.disk).as("which may be where another disk is not mounted").doesNotExist();
		at("2026-11-20T03:29:00Z");
		assertThat(look()).isFalse();
		Files.createDirectory(this.disk);
		at("2026-11-20T03:30:00Z");
		assertThat(look()).isTrue();
		assertThat(this.runs.last(1)).singleElement().matches(BackupRun::isGood);
		assertThat(this.runs.lastGood()).contains(Instant.parse("2026-11-20T03:30:00Z"));
	}

	@Test
	void aPassphraseThatIsTooShortIsAReason() throws Exception {
		openAccount();
		Files.writeString(this.passphrase, "short");
		assertThat(look()).isTrue();
		assertThat(this.runs.last(1)).singleElement()
			.satisfies((run) -> assertThat(run.reason()).contains("at least 15 characters").doesNotContain("short."));
		assertThat(names()).isEmpty();
	}

	@Test
	void anotherServiceOnTheSameRecordsIsNoFailure() throws Exception {
		openAccount();
		try (var other = this.connections.open(); var statement = other.createStatement()) {
			statement.execute("select pg_advisory_lock(%d)".formatted(MakeBackup.ONE_AT_A_TIME));
			assertThat(look()).isTrue();
			statement.execute("select pg_advisory_unlock(%d)".formatted(MakeBackup.ONE_AT_A_TIME));
			other.commit();
		}
		assertThat(this.runs.last(1)).isEmpty();
	}

	@Test
	void anInstallationThatWaitsForItsFirstAdministratorMakesNone() throws Exception {
		assertThat(look()).isFalse();
		assertThat(names()).isEmpty();
	}

	private void openAccount() {
		this.accounts.open("a.head", Set.of(Role.ADMINISTRATOR), "nine herons and a pike");
	}

	private void at(String moment) {
		this.clock.setTo(Instant.parse(moment));
	}

	private static void wait(Optional<Future<?>> job) {
		job.ifPresent((one) -> {
			try {
				one.get();
			}
			catch (InterruptedException | ExecutionException ex) {
				throw new IllegalStateException(ex);
			}
		});
	}

	/** Whether a backup was tried; it has ended by then. */
	private boolean look() throws Exception {
		Optional<Future<?>> job = this.jobs.startIfDue();
		if (job.isPresent()) {
			job.get().get();
		}
		return job.isPresent();
	}

	private List<String> names() throws IOException {
		try (var files = Files.list(this.disk)) {
			return files.map((file) -> file.getFileName().toString()).toList();
		}
	}

}
