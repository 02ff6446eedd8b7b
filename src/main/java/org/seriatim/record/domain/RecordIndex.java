package org.seriatim.record.domain;

import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.PatientIndex;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Finds the patient whose record an address shows, by what its pattern names. */
@Component
@Transactional(readOnly = true)
class RecordIndex implements PatientIndex {

	/** Entries whose row names the patient. */
	private static final Map<String, String> ENTRIES = Map.of("series", "select patient_id from series where id = :id",
			"session", "select patient_id from session where id = :id", "scar",
			"select patient_id from scar where id = :id", "finding", "select patient_id from finding where id = :id",
			"photograph", "select patient_id from photograph where id = :id");

	private final JdbcClient database;

	private final PatientDirectory patients;

	private final EarlierVersions history;

	private final EntryOwner owner;

	RecordIndex(JdbcClient database, PatientDirectory patients, EarlierVersions history, EntryOwner owner) {
		this.database = database;
		this.patients = patients;
		this.history = history;
		this.owner = owner;
	}

	@Override
	public Optional<UUID> shownAt(Map<String, String> variables) {
		if (variables.containsKey("patient")) {
			return id(variables.get("patient"));
		}
		if (variables.containsKey("kind") && variables.containsKey("entry")) {
			return id(variables.get("entry")).flatMap((entry) -> this.history.whole(variables.get("kind"), entry))
				.flatMap(this.owner::of)
				.map(PatientId::value);
		}
		return ENTRIES.keySet()
			.stream()
			.filter(variables::containsKey)
			.findFirst()
			.flatMap((entry) -> id(variables.get(entry)).flatMap((id) -> ofEntry(entry, id)));
	}

	private Optional<UUID> ofEntry(String entry, UUID id) {
		return this.database.sql(ENTRIES.get(entry)).param("id", id).query(UUID.class).optional();
	}

	/** An address may hold anything. */
	private static Optional<UUID> id(@Nullable String text) {
		try {
			return Optional.ofNullable(text).map(UUID::fromString);
		}
		catch (IllegalArgumentException ex) {
			return Optional.empty();
		}
	}

	@Override
	public Optional<UUID> withRecordNumber(String recordNumber) {
		return this.patients.byRecordNumber(recordNumber).map(PatientSummary::id).map(PatientId::value);
	}

	@Override
	public Optional<String> recordNumberOf(UUID patient) {
		return this.patients.byId(new PatientId(patient)).map(PatientSummary::recordNumber);
	}

}
