package org.seriatim.treatment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.Aftercare;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.DiscardReason;
import org.seriatim.treatment.Handling;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.PointPattern;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.SideCheck;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.VialFate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Reads any number of sessions with three statements. */
@Component
@Transactional(readOnly = true)
class RecordedTreatment implements TreatmentHistory {

	private static final String SERIES = """
			select id, patient_id, number, goal, planned_sessions, status, ended_on, reason, protocol_version
			from series\s""";

	private final JdbcClient database;

	RecordedTreatment(JdbcClient database) {
		this.database = database;
	}

	@Override
	public List<SeriesSummary> seriesOf(PatientId patient) {
		return this.database.sql(SERIES + "where patient_id = :patient order by number")
			.param("patient", patient.value())
			.query(RecordedTreatment::series)
			.list();
	}

	@Override
	public Optional<SeriesSummary> series(SeriesId series) {
		return this.database.sql(SERIES + "where id = :id")
			.param("id", series.value())
			.query(RecordedTreatment::series)
			.optional();
	}

	@Override
	public List<SeriesSummary> openSeries() {
		return this.database.sql(SERIES + "where status = 'open' order by patient_id, number")
			.query(RecordedTreatment::series)
			.list();
	}

	@Override
	public List<RecordedSession> sessionsOf(PatientId patient) {
		return sessionsOf(List.of(patient)).getOrDefault(patient, List.of());
	}

	@Override
	public Map<PatientId, List<RecordedSession>> sessionsOf(Collection<PatientId> patients) {
		return sessions("patient_id", patients.stream().map(PatientId::value).toList()).stream()
			.collect(Collectors.groupingBy(RecordedSession::patient));
	}

	@Override
	public Optional<RecordedSession> session(SessionId session) {
		return sessions("id", List.of(session.value())).stream().findFirst();
	}

	/*
	 * A set of ids travels as one text, so that the statement is the same for one patient
	 * and for thousands.
	 */
	private List<RecordedSession> sessions(String column, List<UUID> ids) {
		var wanted = ids.stream().map(UUID::toString).collect(Collectors.joining(",", "{", "}"));
		var preparations = new HashMap<UUID, List<RecordedPreparation>>();
		this.database.sql("""
				select session_id, preparation.id, preparation.number, product, lot, expires_on, vial_mg, diluent_ml,
					stock_drawn_ml, added_diluent_ml, lidocaine_percent, lidocaine_ml, discarded_ml, hyaluronic_mg,
					reconstituted_at, first_used_at, syringes, vial_fate, discard_reason, expired_reason, balance_reason
				from preparation join session on session.id = session_id
				where session.%s = any(cast(:ids as uuid[]))
				order by preparation.number""".formatted(column)).param("ids", wanted).query((row) -> {
			collect(preparations, row, preparation(row));
		});
		var injections = new HashMap<UUID, List<RecordedInjection>>();
		this.database.sql("""
				select session_id, injection.number, preparation_id, region, scar_id, target, layer, points, volume_ml,
					needle_gauge, needle_mm, blanching, bleeding, base_lifted, lump_raised, second_direction,
					injection.pain_nrs, point_ml, angle_degrees, area_cm2, spacing_mm
				from injection join session on session.id = session_id
				where session.%s = any(cast(:ids as uuid[]))
				order by injection.number""".formatted(column)).param("ids", wanted).query((row) -> {
			collect(injections, row, injection(row));
		});
		return this.database.sql("""
				select id, patient_id, series_id, number, treated_on, practitioner_id, weight_kg, combination,
					rf_depth_mm, topical_minutes, oral_analgesic, vibration, pain_nrs, massage, topical_grams,
					topical_area_cm2, right_even, right_lump_felt, right_compressed, right_massaged, right_ointment,
					middle_even, middle_lump_felt, middle_compressed, middle_massaged, middle_ointment, left_even,
					left_lump_felt, left_compressed, left_massaged, left_ointment, instructions_given, instructions
				from session
				where %s = any(cast(:ids as uuid[]))
				order by patient_id, number""".formatted(column))
			.param("ids", wanted)
			.query((row, index) -> session(row, preparations, injections))
			.list();
	}

	private static <T> void collect(Map<UUID, List<T>> bySession, ResultSet row, T value) throws SQLException {
		bySession.computeIfAbsent(row.getObject("session_id", UUID.class), (id) -> new ArrayList<>()).add(value);
	}

	private static SeriesSummary series(ResultSet row, int index) throws SQLException {
		return new SeriesSummary(new SeriesId(row.getObject("id", UUID.class)),
				new PatientId(row.getObject("patient_id", UUID.class)), row.getInt("number"), row.getString("goal"),
				row.getObject("planned_sessions", Integer.class),
				SeriesStatus.valueOf(row.getString("status").toUpperCase(Locale.ROOT)),
				row.getObject("ended_on", LocalDate.class), row.getString("reason"), row.getInt("protocol_version"));
	}

	private static RecordedSession session(ResultSet row, Map<UUID, List<RecordedPreparation>> preparations,
			Map<UUID, List<RecordedInjection>> injections) throws SQLException {
		var id = row.getObject("id", UUID.class);
		return new RecordedSession(new SessionId(id), new PatientId(row.getObject("patient_id", UUID.class)),
				new SeriesId(row.getObject("series_id", UUID.class)), row.getInt("number"),
				row.getObject("treated_on", LocalDate.class), new StaffId(row.getObject("practitioner_id", UUID.class)),
				row.getBigDecimal("weight_kg"), constant(Combination.class, row.getString("combination")),
				row.getBigDecimal("rf_depth_mm"), row.getObject("topical_minutes", Integer.class),
				row.getObject("oral_analgesic", Boolean.class), row.getObject("vibration", Boolean.class),
				row.getObject("pain_nrs", Integer.class), row.getObject("massage", Boolean.class),
				preparations.getOrDefault(id, List.of()), injections.getOrDefault(id, List.of()),
				new Aftercare(row.getBigDecimal("topical_grams"), row.getBigDecimal("topical_area_cm2"),
						side(row, "right"), side(row, "middle"), side(row, "left"),
						row.getObject("instructions_given", Boolean.class), row.getString("instructions")));
	}

	private static SideCheck side(ResultSet row, String side) throws SQLException {
		return new SideCheck(row.getObject(side + "_even", Boolean.class),
				row.getObject(side + "_lump_felt", Boolean.class), row.getObject(side + "_compressed", Boolean.class),
				row.getObject(side + "_massaged", Boolean.class), row.getObject(side + "_ointment", Boolean.class));
	}

	private static RecordedPreparation preparation(ResultSet row) throws SQLException {
		return new RecordedPreparation(new PreparationId(row.getObject("id", UUID.class)), row.getInt("number"),
				row.getString("product"), row.getString("lot"), row.getObject("expires_on", LocalDate.class),
				row.getBigDecimal("vial_mg"), row.getBigDecimal("diluent_ml"), row.getBigDecimal("stock_drawn_ml"),
				row.getBigDecimal("added_diluent_ml"), row.getBigDecimal("lidocaine_percent"),
				row.getBigDecimal("lidocaine_ml"), row.getBigDecimal("discarded_ml"), handling(row));
	}

	private static Handling handling(ResultSet row) throws SQLException {
		return new Handling(row.getBigDecimal("hyaluronic_mg"), instant(row, "reconstituted_at"),
				instant(row, "first_used_at"), row.getObject("syringes", Integer.class),
				constant(VialFate.class, row.getString("vial_fate")),
				constant(DiscardReason.class, row.getString("discard_reason")), row.getString("expired_reason"),
				row.getString("balance_reason"));
	}

	private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
		var time = row.getObject(column, OffsetDateTime.class);
		return (time != null) ? time.toInstant() : null;
	}

	private static RecordedInjection injection(ResultSet row) throws SQLException {
		var preparation = row.getObject("preparation_id", UUID.class);
		var scar = row.getObject("scar_id", UUID.class);
		return new RecordedInjection(row.getInt("number"),
				(preparation != null) ? new PreparationId(preparation) : null,
				Region.valueOf(row.getString("region").toUpperCase(Locale.ROOT)),
				(scar != null) ? new ScarId(scar) : null,
				Target.valueOf(row.getString("target").toUpperCase(Locale.ROOT)),
				constant(Layer.class, row.getString("layer")), row.getObject("points", Integer.class),
				row.getBigDecimal("volume_ml"), row.getObject("needle_gauge", Integer.class),
				row.getBigDecimal("needle_mm"),
				new RecordedInjection.Endpoints(row.getObject("blanching", Boolean.class),
						row.getObject("bleeding", Boolean.class), row.getObject("base_lifted", Boolean.class),
						row.getObject("lump_raised", Boolean.class), row.getObject("second_direction", Boolean.class)),
				row.getObject("pain_nrs", Integer.class),
				new PointPattern(row.getBigDecimal("point_ml"), row.getObject("angle_degrees", Integer.class),
						row.getBigDecimal("area_cm2"), row.getBigDecimal("spacing_mm")));
	}

	private static <E extends Enum<E>> @Nullable E constant(Class<E> type, @Nullable String word) {
		return (word != null) ? Enum.valueOf(type, word.toUpperCase(Locale.ROOT)) : null;
	}

}
