package org.seriatim.access.domain;

import java.io.UncheckedIOException;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.AuditTrail;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
@Transactional(readOnly = true)
class StoredAuditTrail implements AuditTrail {

	private static final int AT_A_TIME = 1_000;

	private static final String SELECT = """
			select e.id, e.at, staff.name as staff, e.action, e.kind, e.entry_id, e.patient_id, e.detail, e.origin,
				e.origin_id, e.command, e.address, e.emergency_id
			from audit_entry e left join staff on staff.id = e.staff_id
			where true""";

	private final JdbcClient database;

	private final JdbcTemplate streaming;

	private final AuditAnchor anchor;

	private final Clock clock;

	StoredAuditTrail(JdbcClient database, JdbcTemplate template, AuditAnchor anchor, Clock clock) {
		this.database = database;
		this.streaming = template;
		this.anchor = anchor;
		this.clock = clock;
	}

	@Override
	public List<Row> newest(Wanted wanted, @Nullable Place before, int most) {
		var query = new Query(wanted);
		if (before != null) {
			query.and("(e.at, e.id) < (?, ?)", at(before.at()), before.id());
		}
		return this.database.sql(query.sql + " order by e.at desc, e.id desc limit " + most)
			.params(query.parameters)
			.query(StoredAuditTrail::row)
			.list();
	}

	@Override
	public void each(Wanted wanted, Consumer<Row> reader) {
		var query = new Query(wanted);
		this.streaming.query((connection) -> {
			var statement = connection.prepareStatement(query.sql + " order by e.at, e.id");
			statement.setFetchSize(AT_A_TIME);
			for (int at = 0; at < query.parameters.size(); at++) {
				statement.setObject(at + 1, query.parameters.get(at));
			}
			return statement;
		}, (ResultSet row) -> reader.accept(row(row, 0)));
	}

	/** The conditions that somebody has asked for. */
	private final class Query {

		private final StringBuilder sql = new StringBuilder(SELECT);

		private final List<Object> parameters = new ArrayList<>();

		private Query(Wanted wanted) {
			if (wanted.staff() != null) {
				and("e.staff_id = ?", wanted.staff().value());
			}
			if (wanted.patient() != null) {
				and("e.patient_id = ?", wanted.patient());
			}
			if (wanted.action() != null) {
				and("e.action = ?", wanted.action().name().toLowerCase(Locale.ROOT));
			}
			if (wanted.kind() != null) {
				and("e.kind = ?", wanted.kind());
			}
			if (wanted.from() != null) {
				and("e.at >= ?", at(wanted.from()));
			}
			if (wanted.until() != null) {
				and("e.at < ?", at(wanted.until()));
			}
		}

		private void and(String condition, Object... values) {
			this.sql.append(" and ").append(condition);
			this.parameters.addAll(Arrays.asList(values));
		}

	}

	private static Row row(ResultSet row, int number) throws SQLException {
		return new Row(row.getLong("id"), instant(row, "at"), row.getString("staff"), action(row),
				row.getString("kind"), row.getObject("entry_id", UUID.class), row.getObject("patient_id", UUID.class),
				row.getString("detail"), row.getString("origin"), row.getObject("origin_id", UUID.class),
				row.getString("command"), row.getString("address"), row.getObject("emergency_id", UUID.class));
	}

	private static Action action(ResultSet row) throws SQLException {
		return Action.valueOf(row.getString("action").toUpperCase(Locale.ROOT));
	}

	/* From one kind to the next along the index, however many entries there are. */
	@Override
	public List<String> kinds() {
		return this.database
			.sql("""
					with recursive known as (
						(select kind from audit_entry order by kind limit 1)
						union all
						select (select e.kind from audit_entry e where e.kind > known.kind order by e.kind limit 1) from known
						where known.kind is not null)
					select kind from known where kind is not null order by kind""")
			.query(String.class)
			.list();
	}

	@Override
	public List<Opening> ofPatient(UUID patient) {
		return this.database
			.sql("""
					select min(e.at) as first, max(e.at) as last, count(*) as times, staff.name as staff,
						coalesce((select string_agg(role, ',' order by role) from account
							join account_role on account_role.account_id = account.id
							where account.staff_id = e.staff_id), '') as roles,
						e.action, e.kind, e.origin, e.emergency_id is not null or e.kind = 'emergency_access' as emergency,
						emergency.reason
					from audit_entry e
						left join staff on staff.id = e.staff_id
						left join emergency_access emergency on emergency.id = coalesce(e.emergency_id,
							case when e.kind = 'emergency_access' and e.action = 'emergency' then e.entry_id end)
					where e.patient_id = :patient
					group by (e.at at time zone :zone)::date, e.staff_id, staff.name, e.action, e.kind, e.origin, e.emergency_id,
						emergency.reason
					order by last desc, e.kind, e.action""")
			.param("patient", patient)
			.param("zone", this.clock.getZone().getId())
			.query((row, number) -> new Opening(instant(row, "first"), instant(row, "last"), row.getLong("times"),
					row.getString("staff"), row.getString("roles"), action(row), row.getString("kind"),
					row.getString("origin"), row.getBoolean("emergency"), row.getString("reason")))
			.list();
	}

	@Override
	public State state() {
		Optional<AuditAnchor.Head> kept;
		try {
			kept = this.anchor.read();
		}
		catch (IllegalStateException | UncheckedIOException ex) {
			// fits nothing, as one that somebody has changed
			kept = Optional.of(new AuditAnchor.Head(Long.MAX_VALUE, AuditMarks.START));
		}
		return this.database
			.sql("""
					select last.position, last.sealed_at, (select count(*) from audit_waiting) as waiting,
						cast(:anchor as bigint) is not null and not exists (select from audit_seal
							where position = :anchor and hash = :hash) as end_missing,
						verification.at as verified_at, substr(verification.detail, length(:verified) + 1) as verified
					from (select 1) one
						left join lateral (select position, sealed_at from audit_seal order by position desc limit 1) last on true
						left join lateral (select at, detail from audit_entry
							where kind = :kind and starts_with(detail, :verified) order by at desc, id desc limit 1) verification on true
					""")
			.param("anchor", kept.map(AuditAnchor.Head::position).orElse(null), Types.BIGINT)
			.param("hash", kept.map(AuditAnchor.Head::hash).orElse(AuditMarks.START))
			.param("verified", VerifyAuditLog.VERIFIED)
			.param("kind", VerifyAuditLog.KIND)
			.query((row, number) -> new State(row.getLong("position"),
					(row.getObject("sealed_at") != null) ? instant(row, "sealed_at") : null, row.getLong("waiting"),
					row.getBoolean("end_missing"),
					(row.getObject("verified_at") != null) ? instant(row, "verified_at") : null,
					row.getString("verified")))
			.single();
	}

	private OffsetDateTime at(Instant instant) {
		return OffsetDateTime.ofInstant(instant, this.clock.getZone());
	}

	private static Instant instant(ResultSet row, String column) throws SQLException {
		return row.getObject(column, OffsetDateTime.class).toInstant();
	}

}
