package org.seriatim.access.domain;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.domain.AuditAnchor.Head;
import org.seriatim.access.domain.AuditFault.How;
import org.seriatim.database.RecordsOwner;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.jdbc.BadSqlGrammarException;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;
import picocli.CommandLine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/**
 * Whoever changes the log without the key, even as the owner of its tables, is found out.
 */
@PageTest
@ExtendWith(OutputCaptureExtension.class)
class AuditLogTests {

	private static final int SEALED = 6;

	private static final int THIRD = 3;

	@Autowired
	private AuditLog audit;

	@Autowired
	private SealAuditLog seal;

	@Autowired
	private VerifyAuditLog verification;

	@Autowired
	private PlatformTransactionManager transactions;

	@Autowired
	private JdbcTemplate service;

	@Autowired
	private RecordsOwner records;

	@Autowired
	private TestClock clock;

	@TempDir
	private Path data;

	private AuditAnchor anchor;

	private JdbcTemplate owner;

	@BeforeEach
	void sixEntriesAreSealed() {
		this.anchor = new AuditAnchor(this.data);
		this.owner = new JdbcTemplate(this.records.dataSource());
		write(SEALED);
		assertThat(this.seal.all(this.anchor)).isEqualTo(SEALED);
	}

	private void write(int entries) {
		for (int i = 0; i < entries; i++) {
			this.audit.record(Action.OPENED, "patient", new UUID(1, i), new UUID(1, i), "entry " + i);
			this.clock.advance(Duration.ofSeconds(1));
		}
	}

	private AuditVerdict verdict() {
		return this.verification.of(this.anchor.read(), 1);
	}

	private void assertBroken(How how, Long position) {
		assertThat(verdict().fault()).hasValueSatisfying((fault) -> {
			assertThat(fault.how()).isEqualTo(how);
			assertThat(fault.position()).isEqualTo(position);
		});
	}

	private long entryAt(int position) {
		return this.owner.queryForObject("select entry_id from audit_seal where position = ?", Long.class, position);
	}

	private void tamper(String sql, Object... parameters) {
		assertThat(this.owner.update(sql, parameters)).as(sql).isPositive();
	}

	private void letEntriesGo() {
		this.owner.execute("alter table audit_seal drop constraint audit_seal_entry_id_fkey");
	}

	@Test
	void isIntactAsItWasWritten() {
		write(2);
		var verdict = verdict();
		assertThat(verdict.fault()).isEmpty();
		assertThat(verdict.sealed()).isEqualTo(SEALED);
		assertThat(verdict.waiting()).isEqualTo(2);
		assertThat(verdict.waitingSince()).isEqualTo("2026-11-20T09:00:06Z");
		assertThat(verdict.head()).isNotNull()
			.satisfies((head) -> assertThat(head.text()).isEqualTo(this.anchor.read().orElseThrow().text()));
	}

	@Test
	void anAlteredEntryIsFoundWhateverIsAltered() {
		this.owner.update("insert into staff (name) values ('Somebody')");
		this.owner.execute("create table as_written as table audit_entry");
		for (String alteration : List.of("detail = 'other'", "detail = null", "at = at + interval '1 microsecond'",
				"staff_id = (select id from staff where name = 'Somebody')", "action = 'created'", "kind = 'session'",
				"entry_id = gen_random_uuid()", "patient_id = gen_random_uuid()", "address = '10.0.0.1'",
				"origin = 'service'", "origin = 'command', command = 'import'", "origin = 'token'",
				"origin = 'token', origin_id = gen_random_uuid()", "emergency_id = gen_random_uuid()",
				"uid = gen_random_uuid()", "mark = sha256('a')", "mark = null, uid = null, origin = null")) {
			tamper("update audit_entry set %s where id = ?".formatted(alteration), entryAt(THIRD));
			assertThat(verdict().fault()).as(alteration).hasValueSatisfying((fault) -> {
				assertThat(fault.how()).isEqualTo(How.ALTERED);
				assertThat(fault.sentence()).contains("position 3 with id " + entryAt(THIRD), "was altered");
			});
			tamper("""
					update audit_entry e set (at, staff_id, action, kind, entry_id, patient_id, detail, origin, origin_id,
						command, address, emergency_id, uid, mark) = (select at, staff_id, action, kind, entry_id, patient_id,
						detail, origin, origin_id, command, address, emergency_id, uid, mark from as_written w where w.id = e.id)""");
		}
		assertThat(verdict().fault()).isEmpty();
	}

	@Test
	void anAlteredSealIsFound() {
		this.owner.execute("create table as_sealed as table audit_seal");
		for (String alteration : List.of("hash = sha256('a')", "sealed_at = sealed_at - interval '1 day'",
				"from_before = true")) {
			tamper("update audit_seal set %s where position = 3".formatted(alteration));
			assertBroken(How.SEAL, (long) THIRD);
			tamper("""
					update audit_seal s set (sealed_at, from_before, hash) =
						(select sealed_at, from_before, hash from as_sealed a where a.position = s.position)""");
		}
		assertThat(verdict().fault()).isEmpty();
	}

	@Test
	void aRemovedEntryIsFound() {
		letEntriesGo();
		tamper("delete from audit_entry where id = ?", entryAt(THIRD));
		assertBroken(How.REMOVED, (long) THIRD);
	}

	@Test
	void aRemovedSealIsFound() {
		tamper("delete from audit_seal where position = 3");
		assertBroken(How.REMOVED, (long) THIRD);
	}

	@Test
	void theFirstEntryRemovedWithItsSealIsFound() {
		letEntriesGo();
		tamper("delete from audit_entry where id = ?", entryAt(1));
		tamper("delete from audit_seal where position = 1");
		assertBroken(How.REMOVED, 1L);
	}

	@Test
	void anEntryRemovedWithItsSealAndAllOthersMovedUpIsFound() {
		letEntriesGo();
		tamper("delete from audit_entry where id = ?", entryAt(THIRD));
		tamper("delete from audit_seal where position = 3");
		for (int position = THIRD + 1; position <= SEALED; position++) {
			tamper("update audit_seal set position = ? where position = ?", position - 1, position);
		}
		assertBroken(How.SEAL, (long) THIRD);
	}

	@Test
	void anEntryRemovedBeforeItWasSealedIsFound() {
		write(1);
		tamper("delete from audit_entry where id not in (select entry_id from audit_seal)");
		assertBroken(How.REMOVED, null);
		assertThat(this.seal.all(this.anchor)).isZero();
		assertBroken(How.REMOVED, null);
	}

	@Test
	void anAddedEntryIsFoundWhetherItIsSealedOrNot() {
		tamper("insert into audit_entry (at, action, kind) values (now(), 'opened', 'patient')");
		assertBroken(How.ADDED, null);
		tamper("insert into audit_waiting select max(id) from audit_entry");
		assertThat(this.seal.all(this.anchor)).isOne();
		assertBroken(How.ADDED, SEALED + 1L);
	}

	@Test
	void anEntryAddedWithASealOfItsOwnIsFound() {
		tamper("""
				insert into audit_entry (at, action, kind, origin, uid, mark)
				values (now(), 'opened', 'patient', 'service', gen_random_uuid(), sha256('a'))""");
		tamper("insert into audit_seal select 7, max(id), now(), false, sha256('b') from audit_entry");
		assertBroken(How.ADDED, SEALED + 1L);
	}

	@Test
	void aCopyOfAnEntryIsFound() {
		this.owner.execute("alter table audit_entry drop constraint audit_entry_uid_key");
		tamper("""
				insert into audit_entry (at, action, kind, entry_id, patient_id, detail, origin, origin_id, uid, mark)
				select at, action, kind, entry_id, patient_id, detail, origin, origin_id, uid, mark
				from audit_entry where id = ?""", entryAt(THIRD));
		assertBroken(How.ADDED, null);
	}

	@Test
	void twoEntriesInEachOthersPlaceAreFound() {
		letEntriesGo();
		long third = entryAt(THIRD);
		long fifth = entryAt(5);
		this.owner.execute("alter table audit_entry alter column id drop identity");
		for (long[] move : new long[][] { { third, -1 }, { fifth, third }, { -1, fifth } }) {
			tamper("update audit_entry set id = ? where id = ?", move[1], move[0]);
		}
		assertBroken(How.REORDERED, (long) THIRD);
	}

	@Test
	void twoSealsInEachOthersPlaceAreFound() {
		tamper("update audit_seal set position = 100 where position = 3");
		tamper("update audit_seal set position = 3 where position = 5");
		tamper("update audit_seal set position = 5 where position = 100");
		assertBroken(How.SEAL, (long) THIRD);
	}

	@Test
	void sealsOfTwoEntriesExchangedAreFound() {
		this.owner.execute("alter table audit_seal drop constraint audit_seal_entry_id_key");
		tamper("update audit_seal set entry_id = ? where position = 3", entryAt(5));
		assertBroken(How.REORDERED, (long) THIRD);
	}

	@Test
	void aCutOffEndIsFoundByTheAnchorAlsoAfterTheLogWentOn() {
		var noted = this.anchor.read().map(Head::text).map(Head::parse);
		tamper("delete from audit_seal where position > 4");
		tamper("delete from audit_entry where id not in (select entry_id from audit_seal)");
		assertBroken(How.CUT_OFF, 5L);
		assertThat(this.verification.of(Optional.empty(), 1).fault()).as("without the anchor").isEmpty();

		write(4);
		this.seal.all(this.anchor);
		assertThat(verdict().sealed()).isEqualTo(8);
		assertBroken(How.CUT_OFF, (long) SEALED);
		assertThat(this.anchor.read()).as("stays as the proof").map(Head::text).isEqualTo(noted.map(Head::text));
	}

	@Test
	void anEmptiedLogIsFound() {
		this.owner.execute("truncate audit_seal, audit_entry, audit_waiting");
		assertBroken(How.CUT_OFF, 1L);
	}

	@Test
	void anEntryThatCommitsLateIsSealedAllTheSame() {
		var anew = new TransactionTemplate(this.transactions);
		anew.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
		new TransactionTemplate(this.transactions).executeWithoutResult((slow) -> {
			write(1);
			anew.executeWithoutResult((quick) -> write(1));
			anew.executeWithoutResult((sealing) -> assertThat(this.seal.all(this.anchor)).isOne());
		});
		assertThat(this.seal.all(this.anchor)).isOne();
		assertThat(
				this.service.queryForList("select entry_id from audit_seal order by position desc limit 2", Long.class))
			.as("the late one has the smaller id, and the later place")
			.isSorted();
		assertThat(verdict().fault()).isEmpty();
		assertThat(verdict().waiting()).isZero();
	}

	@Test
	void entriesFromBeforeTheyWereMarkedAreSealedOnceAndNoneLater() {
		this.owner.execute("truncate audit_seal, audit_entry, audit_waiting");
		var fresh = new AuditAnchor(this.data.resolve("fresh"));
		this.owner
			.update("""
					insert into audit_entry (at, action, kind) select now(), 'opened', 'patient' from generate_series(1, 3)""");
		this.owner.update("insert into audit_waiting select id from audit_entry");
		assertThat(this.verification.of(fresh.read(), 1).fault()).as("at the first start").isEmpty();
		write(1);
		assertThat(this.seal.all(fresh)).isEqualTo(4);
		var verdict = this.verification.of(fresh.read(), 1);
		assertThat(verdict.fault()).isEmpty();
		assertThat(verdict.fromBefore()).isEqualTo(3);

		this.owner.update("insert into audit_entry (at, action, kind) values (now(), 'opened', 'patient')");
		this.owner.update("insert into audit_waiting select max(id) from audit_entry");
		this.seal.all(fresh);
		assertThat(this.verification.of(fresh.read(), 1).fault())
			.hasValueSatisfying((fault) -> assertThat(fault.how()).isEqualTo(How.ADDED));

		tamper("update audit_entry set detail = 'other' where id = ?", entryAt(2));
		assertThat(this.verification.of(fresh.read(), 1).fault())
			.hasValueSatisfying((fault) -> assertThat(fault.position()).isEqualTo(2));
	}

	@Test
	void aLogWhoseBeginningHasAnotherKeyIsVerifiedFromAPositionOn() {
		tamper("update audit_entry set detail = 'other' where id = ?", entryAt(THIRD));
		assertThat(this.verification.of(this.anchor.read(), 4).fault()).isEmpty();
		assertThat(this.verification.of(this.anchor.read(), 3).fault()).isPresent();
	}

	@Test
	void theServiceMayReadAndAddOnly() {
		for (String statement : List.of("update audit_entry set detail = 'other'", "delete from audit_entry",
				"truncate audit_entry cascade", "update audit_seal set hash = sha256('a')", "delete from audit_seal",
				"alter table audit_entry disable trigger all", "drop table audit_seal",
				"create table public.mine (a int)", "set session_replication_role = replica",
				"alter role current_user superuser", "set role seriatim")) {
			assertThatExceptionOfType(BadSqlGrammarException.class).as(statement)
				.isThrownBy(() -> this.service.execute(statement))
				.havingRootCause()
				.withMessageMatching("(?s).*(permission denied|must be owner).*");
		}
	}

	@Test
	void theCommandNamesTheFirstBrokenEntryAndFails(CapturedOutput output) {
		String end = this.anchor.read().orElseThrow().text();
		assertThat(command()).isZero();
		assertThat(output.getOut()).contains("as it was written: 6 entries sealed", "To be noted apart", end);
		assertThat(command("--anchor", "6")).isEqualTo(2);
		assertThat(command("--anchor", "7" + end.substring(1))).isOne();
		assertThat(output.getErr()).contains("the entry at position 7 and what follows is missing");
		tamper("update audit_entry set detail = 'other' where id in (?, ?)", entryAt(5), entryAt(THIRD));
		assertThat(command()).isOne();
		assertThat(output.getErr()).contains(
				"the entry at position 3 with id %d of 2026-11-20T09:00:02Z was altered.".formatted(entryAt(THIRD)));
		assertThat(command("--from", "6")).isZero();
	}

	@Test
	void anEntryThatIsNotWaitingAnyMoreIsSealedAllTheSame() {
		write(2);
		this.service.update("delete from audit_waiting");
		assertThat(this.seal.all(this.anchor)).isZero();
		assertThat(this.seal.findForgotten()).isEqualTo(2);
		assertThat(this.seal.all(this.anchor)).isEqualTo(2);
		assertThat(this.seal.findForgotten()).isZero();
		assertThat(verdict().fault()).isEmpty();
	}

	private int command(String... arguments) {
		return new CommandLine(new VerifyLogCommand(this.verification, this.anchor, this.clock)).execute(arguments);
	}

	@Test
	void aVerificationIsInTheLogItself() {
		this.verification.andRecord(this.anchor.read());
		assertThat(this.service.queryForObject("select detail from audit_entry order by id desc limit 1", String.class))
			.startsWith("verified: intact, sealed up to 6:");
	}

}
