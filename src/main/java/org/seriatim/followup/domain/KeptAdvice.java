package org.seriatim.followup.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceDecision;
import org.seriatim.followup.AdviceId;
import org.seriatim.followup.SeriesFacts;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;

import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The table of advice: one current for a series, and everything advised before. */
@Component
class KeptAdvice {

	/** Every advice with the latest decision on itself. */
	private static final String EVER_GIVEN = """
			select advice.id, patient_id, computed_at, snapshot_number, content, replaced_at,
				decided_at, decided_by, decided_by_name, accepted, decision.reason, decision.first_day as own_first,
				decision.last_day as own_last, content as decided_content
			from advice left join lateral (
				select advice_decision.*, name as decided_by_name
				from advice_decision join staff on staff.id = decided_by
				where advice_id = advice.id
				order by decided_at desc, advice_decision.id desc limit 1) decision on true\s""";

	/** The current advice with the latest decision after the same session. */
	static final String CURRENT = """
			select advice.id, advice.patient_id, advice.series_id, advice.computed_at, advice.snapshot_number, advice.content,
				advice.replaced_at, decided_at, decided_by, decided_by_name, accepted, decision.reason,
				decision.first_day as own_first, decision.last_day as own_last, decided_content
			from advice left join lateral (
				select advice_decision.*, staff.name as decided_by_name, decided.content as decided_content
				from advice decided join advice_decision on advice_id = decided.id join staff on staff.id = decided_by
				where decided.session_id = advice.session_id
				order by decided_at desc, advice_decision.id desc limit 1) decision on true
			where advice.replaced_at is null and\s""";

	private final JdbcClient database;

	private final JdbcTemplate batches;

	KeptAdvice(JdbcClient database, JdbcTemplate batches) {
		this.database = database;
		this.batches = batches;
	}

	/** What an advice is computed from, as it was stored with it. */
	record Basis(SeriesFacts facts, LocalDate asOf, int protocolVersion, int snapshot) {
	}

	/** An advice to be kept, with what it rests on. */
	record NewAdvice(AdviceId id, PatientId patient, LocalDate asOf, int snapshot, SeriesFacts facts, Advice advice) {
	}

	Optional<StandingAdvice> currentOf(SeriesId series) {
		return this.database.sql(CURRENT + "advice.series_id = :series")
			.param("series", series.value())
			.query(KeptAdvice::standing)
			.optional();
	}

	List<StandingAdvice> currentOf(Collection<PatientId> patients) {
		return this.database.sql(CURRENT + "advice.patient_id = any(cast(:patients as uuid[]))")
			.param("patients", patients.stream().map(PatientId::toString).collect(Collectors.joining(",", "{", "}")))
			.query(KeptAdvice::standing)
			.list();
	}

	List<StandingAdvice> everGivenOn(SeriesId series) {
		return this.database.sql(EVER_GIVEN + "where series_id = :series order by computed_at desc, advice.id desc")
			.param("series", series.value())
			.query(KeptAdvice::standing)
			.list();
	}

	Optional<StandingAdvice> byId(AdviceId advice) {
		return this.database.sql(EVER_GIVEN + "where advice.id = :id")
			.param("id", advice.value())
			.query(KeptAdvice::standing)
			.optional();
	}

	Optional<Basis> basisOf(AdviceId advice) {
		return this.database.sql("select facts, as_of, protocol_version, snapshot_number from advice where id = :id")
			.param("id", advice.value())
			.query((row, index) -> new Basis(AdviceJson.read(row.getString("facts"), SeriesFacts.class),
					row.getObject("as_of", LocalDate.class), row.getInt("protocol_version"),
					row.getInt("snapshot_number")))
			.optional();
	}

	List<PatientId> patientsWithCurrentAdvice() {
		return this.database.sql("select distinct patient_id from advice where replaced_at is null")
			.query((row, index) -> new PatientId(row.getObject("patient_id", UUID.class)))
			.list();
	}

	void replace(List<AdviceId> replaced, List<NewAdvice> added, OffsetDateTime now) {
		if (!replaced.isEmpty()) {
			this.batches.batchUpdate("update advice set replaced_at = ? where id = ?",
					replaced.stream().map((id) -> new Object[] { now, id.value() }).toList());
		}
		if (!added.isEmpty()) {
			this.batches.batchUpdate("""
					insert into advice (id, patient_id, series_id, session_id, computed_at, as_of, protocol_version,
						snapshot_number, facts, content, status, first_day, target_day, last_day, next_contact_day)
					values (?, ?, ?, ?, ?, ?, ?, ?, cast(? as jsonb), cast(? as jsonb), ?, ?, ?, ?, ?)""",
					added.stream().map((advice) -> values(advice, now)).toList());
		}
	}

	private static @Nullable Object[] values(NewAdvice kept, OffsetDateTime now) {
		var advice = kept.advice();
		return new Object[] { kept.id().value(), kept.patient().value(), advice.series().value(),
				advice.session().value(), now, kept.asOf(), advice.protocolVersion(), kept.snapshot(),
				AdviceJson.write(kept.facts()), AdviceJson.write(advice), advice.status().word(), advice.first(),
				advice.target(), advice.last(), advice.nextContact() };
	}

	void keep(AdviceId advice, AdviceDecision decision) {
		this.database.sql("""
				insert into advice_decision (advice_id, decided_at, decided_by, accepted, reason, first_day, last_day)
				values (:advice, :at, :by, :accepted, :reason, :first, :last)""")
			.param("advice", advice.value())
			.param("at", decision.decidedAt().atOffset(ZoneOffset.UTC))
			.param("by", decision.decidedBy().id().value())
			.param("accepted", decision.accepted())
			.param("reason", decision.reason())
			.param("first", decision.first())
			.param("last", decision.last())
			.update();
	}

	static StandingAdvice standing(ResultSet row, int index) throws SQLException {
		var replacedAt = row.getObject("replaced_at", OffsetDateTime.class);
		var advice = AdviceJson.read(row.getString("content"), Advice.class);
		var decision = decision(row);
		return new StandingAdvice(new AdviceId(row.getObject("id", UUID.class)),
				new PatientId(row.getObject("patient_id", UUID.class)), advice,
				row.getObject("computed_at", OffsetDateTime.class).toInstant(), row.getInt("snapshot_number"),
				(replacedAt != null) ? replacedAt.toInstant() : null, decision, decision != null
						&& !AdviceJson.read(row.getString("decided_content"), Advice.class).saysTheSameAs(advice));
	}

	private static @Nullable AdviceDecision decision(ResultSet row) throws SQLException {
		var decidedBy = row.getObject("decided_by", UUID.class);
		return (decidedBy == null) ? null
				: new AdviceDecision(new StaffMember(new StaffId(decidedBy), row.getString("decided_by_name")),
						row.getObject("decided_at", OffsetDateTime.class).toInstant(), row.getBoolean("accepted"),
						row.getString("reason"), row.getObject("own_first", LocalDate.class),
						row.getObject("own_last", LocalDate.class));
	}

}
