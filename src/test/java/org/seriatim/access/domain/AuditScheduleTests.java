package org.seriatim.access.domain;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalTime;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.AuditLog;
import org.seriatim.database.OneServiceAtATime;
import org.seriatim.support.AtOnce;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.scheduling.config.ScheduledTaskRegistrar;
import org.springframework.transaction.support.TransactionOperations;

import static org.assertj.core.api.Assertions.assertThat;

/** Two services that keep one audit log and one data folder. */
@PageTest
class AuditScheduleTests {

	@Autowired
	private SealAuditLog seal;

	@Autowired
	private VerifyAuditLog verification;

	@Autowired
	private OneServiceAtATime services;

	@Autowired
	private AuditLog audit;

	@Autowired
	private TransactionOperations transactions;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private TestClock clock;

	@TempDir
	private Path folder;

	@Test
	void oneOfThemVerifiesANight() throws Exception {
		this.clock.setTo(Instant.parse("2026-11-20T04:20:00Z"));
		AtOnce.run(service()::verifyIfDue, service()::verifyIfDue, service()::verifyIfDue);
		assertThat(verdicts()).hasSize(1);
		this.clock.setTo(Instant.parse("2026-11-21T04:19:59Z"));
		service().verifyIfDue();
		assertThat(verdicts()).as("before its time").hasSize(1);
		this.clock.setTo(Instant.parse("2026-11-21T11:00:00Z"));
		AtOnce.run(service()::verifyIfDue, service()::verifyIfDue);
		assertThat(verdicts()).as("after a night in which none ran")
			.hasSize(2)
			.allMatch((verdict) -> verdict.startsWith("verified: intact"));
	}

	@Test
	void theySealOneChainAndKeepItsEndInOneFile() throws Exception {
		for (int i = 0; i < 60; i++) {
			this.transactions.executeWithoutResult(
					(status) -> this.audit.record(AuditLog.Action.ADMINISTERED, "account", null, null, "tried"));
		}
		Runnable sealing = () -> {
			for (int i = 0; i < 5; i++) {
				sealing().run();
			}
		};
		AtOnce.run(sealing, sealing, sealing);
		sealing().run();
		assertThat(this.jdbc.queryForObject("select count(*) from audit_waiting", Integer.class)).isZero();
		var anchor = new AuditAnchor(this.folder);
		assertThat(anchor.read().orElseThrow().position()).isEqualTo(60);
		assertThat(this.verification.of(anchor.read(), 1).fault()).isEmpty();
	}

	private List<String> verdicts() {
		return this.jdbc.queryForList("select detail from audit_entry where detail like 'verified: %'", String.class);
	}

	private Runnable sealing() {
		var tasks = new ScheduledTaskRegistrar();
		service().configureTasks(tasks);
		return tasks.getFixedDelayTaskList().get(0).getRunnable();
	}

	private AuditSchedule service() {
		return new AuditSchedule(this.seal, this.verification, new AuditAnchor(this.folder), this.services,
				new AuditSettings(Duration.ofSeconds(10), LocalTime.of(4, 20)), this.clock);
	}

}
