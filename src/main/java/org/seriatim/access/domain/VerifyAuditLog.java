package org.seriatim.access.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.Arrays;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.domain.AuditAnchor.Head;
import org.seriatim.access.domain.AuditFault.How;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.ResultSetExtractor;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Walks through the audit log in the order in which it was sealed, computes every mark
 * and hash again, and stops at the first that does not fit. It looks at one moment of the
 * database and holds a few thousand entries at a time, however long the log.
 */
@Component
class VerifyAuditLog {

	/** What the log says of its own verifications, before the result. */
	static final String VERIFIED = "verified: ";

	static final String KIND = "audit_log";

	private static final int AT_A_TIME = 5_000;

	private final JdbcTemplate database;

	private final TransactionTemplate moment;

	private final ServiceKey key;

	private final AuditLog audit;

	VerifyAuditLog(JdbcTemplate database, PlatformTransactionManager transactions, ServiceKey key, AuditLog audit) {
		this.database = database;
		this.moment = new TransactionTemplate(transactions);
		this.moment.setReadOnly(true);
		this.moment.setIsolationLevel(TransactionDefinition.ISOLATION_REPEATABLE_READ);
		this.key = key;
		this.audit = audit;
	}

	/** Verifies the log and puts the result down in it. */
	AuditVerdict andRecord(Optional<Head> anchor) {
		return andRecord(anchor, 1);
	}

	AuditVerdict andRecord(Optional<Head> anchor, long from) {
		var verdict = of(anchor, from);
		this.audit.record(Action.ADMINISTERED, KIND, null, null, VERIFIED + verdict.words());
		return verdict;
	}

	/** When the log was verified last, by the service or by a command. */
	Optional<Instant> lastAt() {
		return this.database
			.query("select max(at) from audit_entry where kind = ? and starts_with(detail, ?)",
					(row, number) -> Optional.ofNullable(row.getObject(1, OffsetDateTime.class)), KIND, VERIFIED)
			.get(0)
			.map(OffsetDateTime::toInstant);
	}

	/**
	 * @param anchor a place in the chain that is known from elsewhere; by it the end of
	 * the log is verified
	 * @param from the first position to look at; the seal before it is believed
	 */
	AuditVerdict of(Optional<Head> anchor, long from) {
		return Objects.requireNonNull(this.moment.execute((status) -> new Walk(anchor, from).verdict()));
	}

	/** A seal that does not fit, with what stands there. */
	private record Suspicion(long position, long id, Instant sealedAt, boolean fromBefore, byte[] hash, byte[] previous,
			Instant at, boolean genuine) {
	}

	/** One walk from beginning to end. */
	private final class Walk {

		private final JdbcTemplate database = VerifyAuditLog.this.database;

		private final AuditMarks marks = new AuditMarks(VerifyAuditLog.this.key);

		private final Optional<Head> anchor;

		private final long from;

		private long next;

		private long fromBefore;

		private byte[] previous;

		private @Nullable Instant sealedAt;

		private boolean anchored;

		private long waiting;

		private @Nullable Instant waitingSince;

		private @Nullable Suspicion suspicion;

		Walk(Optional<Head> anchor, long from) {
			this.anchor = anchor;
			this.from = from;
			this.next = from;
			this.previous = believed(from - 1);
		}

		private byte[] believed(long position) {
			return this.database
				.query("select hash from audit_seal where position = ?", (row, number) -> row.getBytes(1), position)
				.stream()
				.findFirst()
				.orElse(AuditMarks.START);
		}

		AuditVerdict verdict() {
			var fault = sealed().or(() -> Optional.ofNullable(this.suspicion).map(this::explained))
				.or(this::end)
				.or(this::copied)
				.or(this::removedWhileWaiting)
				.or(this::unsealed)
				.orElse(null);
			long sealed = this.next - this.from;
			return new AuditVerdict(sealed, this.fromBefore,
					(this.next > 1) ? new Head(this.next - 1, this.previous) : null, this.sealedAt, this.waiting,
					this.waitingSince, fault);
		}

		private Optional<AuditFault> sealed() {
			return stream("select s.position, s.entry_id as sealed_id, s.sealed_at, s.from_before, s.hash, "
					+ AuditEntry.COLUMNS
					+ " from audit_seal s left join audit_entry e on e.id = s.entry_id where s.position >= ? order by s.position",
					this::step, this.from);
		}

		private Optional<AuditFault> step(ResultSet row) throws SQLException {
			long position = row.getLong("position");
			long id = row.getLong("sealed_id");
			var sealed = row.getObject("sealed_at", OffsetDateTime.class).toInstant();
			if (position > this.next) {
				return fault(How.REMOVED, this.next, null, null);
			}
			if (position < this.next) {
				return fault(How.ADDED, position, id, sealed);
			}
			if (row.getObject("id") == null) {
				return fault(How.REMOVED, position, id, sealed);
			}
			var entry = AuditEntry.read(row);
			var content = entry.content();
			byte[] mark = row.getBytes("mark");
			byte[] hash = row.getBytes("hash");
			boolean before = row.getBoolean("from_before");
			boolean genuine = genuine(content, mark);
			if (!Arrays.equals(hash, this.marks.hash(this.previous, position, sealed, before, id, content, mark))) {
				this.suspicion = new Suspicion(position, id, sealed, before, hash, this.previous, entry.at(), genuine);
				return Optional.empty();
			}
			if (!before && !genuine) {
				return fault(How.ADDED, position, id, entry.at());
			}
			if (this.anchor.filter((known) -> known.position() == position).isPresent()) {
				this.anchored = Arrays.equals(hash, this.anchor.get().hash());
			}
			this.fromBefore += before ? 1 : 0;
			this.previous = hash;
			this.sealedAt = sealed;
			this.next++;
			return Optional.empty();
		}

		private boolean genuine(byte[] content, byte @Nullable [] mark) {
			return mark != null && Arrays.equals(mark, this.marks.mark(content));
		}

		/* Looks for the entry that belongs where something else stands. */
		private AuditFault explained(Suspicion at) {
			boolean elsewhere = stream("select " + AuditEntry.COLUMNS + " from audit_entry e order by e.id", (row) -> {
				long id = row.getLong("id");
				var content = AuditEntry.read(row).content();
				byte[] mark = row.getBytes("mark");
				boolean belongs = fits(at, id, content, mark) || (id != at.id() && fits(at, at.id(), content, mark));
				return belongs ? fault(How.REORDERED, at.position(), at.id(), at.at()) : Optional.empty();
			}).isPresent();
			boolean beyond = this.anchor.filter((known) -> known.position() < at.position()).isPresent();
			How how = elsewhere ? (at.genuine() || at.fromBefore()) ? How.REORDERED : How.ADDED
					: at.genuine() ? How.SEAL : beyond ? How.ADDED : How.ALTERED;
			return new AuditFault(how, at.position(), at.id(), at.at());
		}

		private boolean fits(Suspicion at, long id, byte[] content, byte @Nullable [] mark) {
			return Arrays.equals(at.hash(),
					this.marks.hash(at.previous(), at.position(), at.sealedAt(), at.fromBefore(), id, content, mark));
		}

		private Optional<AuditFault> end() {
			if (this.anchor.isEmpty() || this.anchored) {
				return Optional.empty();
			}
			long position = this.anchor.get().position();
			boolean believed = position < this.from && Arrays.equals(believed(position), this.anchor.get().hash());
			return believed ? Optional.empty() : fault(How.CUT_OFF, Math.min(this.next, position), null, null);
		}

		/* The database refuses it, unless somebody took that rule away. */
		private Optional<AuditFault> copied() {
			return this.database
				.query("""
						select max(id) as id, max(at) as at from audit_entry where uid is not null
						group by uid having count(*) > 1 order by 1 limit 1""",
						(row, number) -> new AuditFault(How.ADDED, null, row.getLong("id"),
								row.getObject("at", OffsetDateTime.class).toInstant()))
				.stream()
				.findFirst();
		}

		private Optional<AuditFault> removedWhileWaiting() {
			return this.database.query("""
					select entry_id from audit_waiting w
					where not exists (select from audit_entry e where e.id = w.entry_id) order by entry_id limit 1""",
					(row, number) -> new AuditFault(How.REMOVED, null, row.getLong(1), null))
				.stream()
				.findFirst();
		}

		private Optional<AuditFault> unsealed() {
			// nothing is sealed before the first start of a version that seals
			boolean begun = this.next > 1 || this.anchor.isPresent();
			return stream("select " + AuditEntry.COLUMNS + """
					 from audit_entry e where not exists (select from audit_seal s where s.entry_id = e.id)
					order by e.id""", (row) -> {
				var entry = AuditEntry.read(row);
				byte[] mark = row.getBytes("mark");
				if ((mark != null || begun) && !genuine(entry.content(), mark)) {
					return fault(How.ADDED, null, row.getLong("id"), entry.at());
				}
				this.waiting++;
				this.waitingSince = (this.waitingSince != null) ? this.waitingSince : entry.at();
				return Optional.empty();
			});
		}

		private static Optional<AuditFault> fault(How how, @Nullable Long position, @Nullable Long id,
				@Nullable Instant at) {
			return Optional.of(new AuditFault(how, position, id, at));
		}

		/* Until a row is at fault, or suspicious. */
		private Optional<AuditFault> stream(String sql, RowTest test, Object... parameters) {
			ResultSetExtractor<Optional<AuditFault>> walk = (rows) -> {
				while (rows.next()) {
					boolean before = this.suspicion == null;
					var fault = test.of(rows);
					if (fault.isPresent() || (before && this.suspicion != null)) {
						return fault;
					}
				}
				return Optional.empty();
			};
			return Objects.requireNonNull(this.database.query((connection) -> {
				var statement = connection.prepareStatement(sql);
				statement.setFetchSize(AT_A_TIME);
				for (int at = 0; at < parameters.length; at++) {
					statement.setObject(at + 1, parameters[at]);
				}
				return statement;
			}, walk));
		}

	}

	private interface RowTest {

		Optional<AuditFault> of(ResultSet row) throws SQLException;

	}

}
