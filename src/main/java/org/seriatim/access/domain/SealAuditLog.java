package org.seriatim.access.domain;

import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.domain.AuditAnchor.Head;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Seals the entries that wait, in batches, one process at a time. What was written last
 * but committed late is sealed when it is there; the order of seals is that in which
 * entries were found, not that of their ids.
 */
@Component
class SealAuditLog {

	private static final Logger LOG = LoggerFactory.getLogger(SealAuditLog.class);

	private static final int BATCH = 2_000;

	/** Of PostgreSQL's advisory locks; two processes must not continue one chain. */
	private static final long ONE_SEALER = 0x5ea1L;

	private final JdbcTemplate database;

	private final TransactionTemplate transaction;

	private final ServiceKey key;

	private final Clock clock;

	private volatile @Nullable String said;

	SealAuditLog(JdbcTemplate database, PlatformTransactionManager transactions, ServiceKey key, Clock clock) {
		this.database = database;
		this.transaction = new TransactionTemplate(transactions);
		this.key = key;
		this.clock = clock;
	}

	private record Waiting(long id, AuditEntry entry, byte @Nullable [] mark) {
	}

	private record Last(Head head, boolean fromBefore) {
	}

	/**
	 * Seals whatever waits, and then moves the anchor to the end. An anchor that doesn't
	 * fit the chain stays as it is: it is the proof.
	 * @return how many were sealed
	 */
	int all(AuditAnchor anchor) {
		int all = 0;
		for (int sealed = batch(); sealed > 0; sealed = batch()) {
			all += sealed;
		}
		moveToEnd(anchor);
		return all;
	}

	/**
	 * Lets entries wait again that are not sealed and wait no more, however that came.
	 */
	int findForgotten() {
		return this.database.update("""
				insert into audit_waiting (entry_id)
				select id from audit_entry e
				where not exists (select from audit_seal s where s.entry_id = e.id)
					and not exists (select from audit_waiting w where w.entry_id = e.id)""");
	}

	private int batch() {
		return Objects.requireNonNull(this.transaction.execute((status) -> {
			boolean alone = Boolean.TRUE
				.equals(this.database.queryForObject("select pg_try_advisory_xact_lock(?)", Boolean.class, ONE_SEALER));
			return alone ? sealed(waiting()) : 0;
		}));
	}

	/*
	 * An entry that waits and is not there was removed; it goes on waiting, and is found.
	 */
	private List<Waiting> waiting() {
		return this.database.query("select " + AuditEntry.COLUMNS + """
				 from audit_entry e
				where e.id in (select w.entry_id from audit_waiting w join audit_entry there on there.id = w.entry_id
					order by w.entry_id limit ?)
				order by e.id""",
				(row, number) -> new Waiting(row.getLong("id"), AuditEntry.read(row), row.getBytes("mark")), BATCH);
	}

	private int sealed(List<Waiting> waiting) {
		if (waiting.isEmpty()) {
			return 0;
		}
		var ids = waiting.stream().map(Waiting::id).toArray(Long[]::new);
		// a restored log brings its seals along
		var already = new HashSet<>(this.database
			.queryForList("select entry_id from audit_seal where entry_id = any(?)", Long.class, (Object) ids));
		var last = last();
		var marks = new AuditMarks(this.key);
		var now = this.clock.instant().truncatedTo(ChronoUnit.MICROS);
		long position = last.map((seal) -> seal.head().position()).orElse(0L);
		byte[] hash = last.map((seal) -> seal.head().hash()).orElse(AuditMarks.START);
		boolean onlyFromBefore = last.map(Last::fromBefore).orElse(true);
		var rows = new ArrayList<Object[]>();
		for (Waiting one : waiting) {
			if (already.contains(one.id())) {
				continue;
			}
			var content = one.entry().content();
			onlyFromBefore &= one.mark() == null;
			if (!onlyFromBefore && !Arrays.equals(one.mark(), marks.mark(content))) {
				LOG.error("Entry {} of the audit log was not written by this service; verify-log names it", one.id());
			}
			hash = marks.hash(hash, ++position, now, onlyFromBefore, one.id(), content, one.mark());
			rows.add(new Object[] { position, one.id(), at(now), onlyFromBefore, hash });
		}
		this.database.batchUpdate(
				"insert into audit_seal (position, entry_id, sealed_at, from_before, hash) values (?, ?, ?, ?, ?)",
				rows);
		return this.database.update("delete from audit_waiting where entry_id = any(?)", (Object) ids);
	}

	private Optional<Last> last() {
		return this.database
			.query("select position, hash, from_before from audit_seal order by position desc limit 1",
					(row, number) -> new Last(new Head(row.getLong("position"), row.getBytes("hash")),
							row.getBoolean("from_before")))
			.stream()
			.findFirst();
	}

	private void moveToEnd(AuditAnchor anchor) {
		var last = last().map(Last::head);
		var kept = anchor.read();
		if (kept.isPresent() && !stands(kept.get())) {
			sayOnce("The audit log does not reach its anchor, %s: its end was cut off, or another log put in its place. Run verify-log."
				.formatted(kept.get().text()));
			return;
		}
		last.filter((head) -> kept.map(Head::position).orElse(0L) < head.position()).ifPresent(anchor::keep);
	}

	private boolean stands(Head anchor) {
		return this.database
			.query("select hash from audit_seal where position = ?", (row, number) -> row.getBytes(1),
					anchor.position())
			.stream()
			.anyMatch((hash) -> Arrays.equals(hash, anchor.hash()));
	}

	private void sayOnce(String fault) {
		if (!fault.equals(this.said)) {
			this.said = fault;
			LOG.error(fault);
		}
	}

	private OffsetDateTime at(Instant instant) {
		return OffsetDateTime.ofInstant(instant, this.clock.getZone());
	}

}
