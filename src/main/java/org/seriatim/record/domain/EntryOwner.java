package org.seriatim.record.domain;

import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.VersionedEntry;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Whose record an entry belongs to, and what its references are called. */
@Service
@Transactional(readOnly = true)
public class EntryOwner {

	private final JdbcClient database;

	EntryOwner(JdbcClient database) {
		this.database = database;
	}

	public Optional<PatientId> of(VersionedEntry entry) {
		var content = entry.latest().content();
		if (entry.kind().equals("patient")) {
			return Optional.of(new PatientId(entry.id()));
		}
		if (content.containsKey("patient_id")) {
			return Optional.of(PatientId.of(content.get("patient_id")));
		}
		return Optional.ofNullable(content.get("session_id"))
			.flatMap((session) -> patient("select patient_id from session where id = :id", session))
			.or(() -> Optional.ofNullable(content.get("finding_id"))
				.flatMap((finding) -> patient("select patient_id from finding where id = :id", finding)));
	}

	private Optional<PatientId> patient(String sql, String id) {
		return this.database.sql(sql).param("id", UUID.fromString(id)).query(UUID.class).optional().map(PatientId::new);
	}

	/**
	 * What people call the entry that a column refers to.
	 * @return {@code null} if the column refers to none
	 */
	public @Nullable String nameOf(String column, String id) {
		var sql = switch (column) {
			case "scar_id" -> "select label from scar where id = :id";
			case "series_id" -> "select number::text from series where id = :id";
			case "session_id" -> "select number || ' (' || treated_on || ')' from session where id = :id";
			case "preparation_id" -> "select number || ', ' || product from preparation where id = :id";
			case "finding_id" -> "select code from finding where id = :id";
			case "assessor_id", "practitioner_id", "closed_by", "raised_by", "acknowledged_by", "asked_by",
					"confirmed_by", "decided_by", "causality_by", "done_by", "considered_by" ->
				"select name from staff where id = :id";
			default -> null;
		};
		return (sql != null)
				? this.database.sql(sql).param("id", UUID.fromString(id)).query(String.class).optional().orElse(id)
				: null;
	}

}
