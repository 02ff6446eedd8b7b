package org.seriatim.record;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;

import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SeriesId;

import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * A patient's record written straight into the tables. A row takes the columns that the
 * test names; the rest is what a valid row needs.
 */
public final class PatientRows {

	private final JdbcClient database;

	private final UUID staff;

	private final PatientId patient;

	private PatientRows(JdbcClient database, UUID staff, PatientId patient) {
		this.database = database;
		this.staff = staff;
		this.patient = patient;
	}

	/** A patient with these columns. */
	public static PatientRows of(JdbcClient database, String recordNumber, Object... columns) {
		var staff = staff(database, "r.vale");
		var id = insert(database, "patient", columns(columns, "record_number", recordNumber));
		return new PatientRows(database, staff, new PatientId(id));
	}

	public static UUID staff(JdbcClient database, String name) {
		return database.sql("""
				insert into staff (name) values (:name) on conflict (name) do update set name = excluded.name
				returning id""").param("name", name).query(UUID.class).single();
	}

	public PatientId id() {
		return this.patient;
	}

	public SeriesId series(int number, Object... columns) {
		return new SeriesId(insert("series", columns, "number", number, "status", "open", "protocol_version", 1));
	}

	public UUID session(SeriesId series, int number, String treatedOn, Object... columns) {
		return insert("session", columns, "series_id", series.value(), "number", number, "treated_on", treatedOn,
				"practitioner_id", this.staff);
	}

	public UUID preparation(UUID session, int number, Object... columns) {
		return insert(this.database, "preparation",
				columns(columns, "session_id", session, "number", number, "product", "biostimulator A"));
	}

	public UUID injection(UUID session, int number, Object... columns) {
		return insert("injection", columns, "session_id", session, "number", number, "region", "nose", "target",
				"pores");
	}

	public UUID scar(String label, Object... columns) {
		return insert("scar", columns, "label", label, "region", "nose", "type", "boxcar", "first_recorded_on",
				"2026-01-01");
	}

	/** Measured by gauge unless the columns say otherwise. */
	public UUID depth(UUID scar, String assessedOn, @Nullable String depthMm, Object... columns) {
		return insert("scar_assessment", columns, "scar_id", scar, "assessed_on", assessedOn, "assessor_id", this.staff,
				"depth_mm", (depthMm != null) ? new BigDecimal(depthMm) : null, "depth_method",
				(depthMm != null) ? "gauge" : null);
	}

	public UUID pores(String region, String assessedOn, Object... columns) {
		return insert("pore_assessment", columns, "region", region, "assessed_on", assessedOn, "assessor_id",
				this.staff);
	}

	public UUID scale(String scale, String item, String assessedOn, int value) {
		return insert("global_assessment", new Object[0], "scale", scale, "item", item, "assessed_on", assessedOn,
				"assessor_id", this.staff, "value", value);
	}

	public UUID count(String region, String type, String assessedOn, int count) {
		return insert("scar_count", new Object[0], "region", region, "type", type, "assessed_on", assessedOn,
				"assessor_id", this.staff, "count", count);
	}

	public UUID finding(@Nullable UUID session, String kind, String firstNotedOn, Object... columns) {
		return insert("finding", columns, "code", "F-" + UUID.randomUUID(), "session_id", session, "kind", kind,
				"first_noted_on", firstNotedOn);
	}

	public UUID seen(UUID finding, String observedOn, boolean present) {
		return insert(this.database, "finding_observation", columns(new Object[0], "finding_id", finding, "observed_on",
				observedOn, "reporter", "patient", "channel", "phone", "present", present));
	}

	public UUID contact(UUID session, String contactedOn, Object... columns) {
		return insert("contact", columns, "session_id", session, "contacted_on", contactedOn, "channel", "phone",
				"outcome", "reached");
	}

	public UUID appointment(String startsAt, String endsAt, Object... columns) {
		return insert("appointment", columns, "practitioner_id", this.staff, "starts_at", startsAt, "ends_at", endsAt,
				"starts_offset_minutes", 0, "ends_offset_minutes", 0, "purpose", "treatment", "status", "booked");
	}

	private UUID insert(String table, Object[] columns, Object... needed) {
		var all = columns(columns, needed);
		all.put("patient_id", this.patient.value());
		return insert(this.database, table, all);
	}

	private static Map<String, Object> columns(Object[] columns, Object... needed) {
		var all = new LinkedHashMap<String, Object>();
		for (int i = 0; i < needed.length; i += 2) {
			all.put((String) needed[i], needed[i + 1]);
		}
		for (int i = 0; i < columns.length; i += 2) {
			all.put((String) columns[i], columns[i + 1]);
		}
		return all;
	}

	/** Text is cast to what the column is. */
	private static UUID insert(JdbcClient database, String table, Map<String, Object> columns) {
		var types = database
			.sql("select attname, atttypid::regtype::text from pg_attribute where attrelid = cast(:table as regclass)")
			.param("table", table)
			.query((row, index) -> Map.entry(row.getString(1), row.getString(2)))
			.list()
			.stream()
			.collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
		var values = columns.keySet()
			.stream()
			.map((column) -> "cast(:" + column + " as " + types.get(column) + ")")
			.collect(Collectors.joining(", "));
		var insert = database.sql("insert into %s (%s) values (%s) returning id".formatted(table,
				String.join(", ", columns.keySet()), values));
		for (var column : columns.entrySet()) {
			var value = column.getValue();
			insert = insert.param(column.getKey(),
					(value instanceof LocalDate || value instanceof UUID) ? value.toString() : value);
		}
		return insert.query(UUID.class).single();
	}

}
