package org.seriatim.record.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.function.Function;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarStanding;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactId;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.RecordedContact;
import org.seriatim.finding.RecordedFinding;
import org.seriatim.finding.RecordedObservation;
import org.seriatim.finding.Reporter;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.PreparationId;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.Target;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * Opens a series before a person, in nine statements whatever the length of its record,
 * and one more where somebody said what became of a scar: each reads all rows of its kind
 * at once, with the names of the people in them.
 */
@Component
public class SeriesRecords {

	private final JdbcClient database;

	private final PatientDirectory patients;

	SeriesRecords(JdbcClient database, PatientDirectory patients) {
		this.database = database;
		this.patients = patients;
	}

	/** The record of a series, whose opening is in the audit log from now on. */
	@Transactional
	public Optional<SeriesRecord> open(SeriesId id) {
		var course = courseWith(id);
		return course.series.values().stream().filter((series) -> series.id().equals(id)).findFirst().map((series) -> {
			var owner = series.patient();
			var patient = this.patients.open(owner);
			var sessions = course.sessions(injections(owner));
			var face = face(owner);
			return new SeriesRecord(patient, series, List.copyOf(course.series.values()), sessions, scars(owner),
					findings(owner, sessions), contacts(owner), upcoming(owner), face.pores, face.globals, face.counts);
		});
	}

	/**
	 * All series of the patient whose series this is, their sessions, what was prepared.
	 */
	private Course courseWith(SeriesId id) {
		var course = new Course();
		this.database.sql("""
				select s.id, s.patient_id, s.number, s.goal, s.planned_sessions, s.status, s.ended_on, s.reason,
					s.protocol_version, t.id as session_id, t.number as session_number, t.treated_on, t.practitioner_id,
					f.name as practitioner, t.weight_kg, t.combination, t.rf_depth_mm, t.topical_minutes,
					t.oral_analgesic, t.vibration, t.pain_nrs, t.massage, p.id as preparation_id,
					p.number as preparation_number, p.product, p.lot, p.expires_on, p.vial_mg, p.diluent_ml,
					p.stock_drawn_ml, p.added_diluent_ml, p.lidocaine_percent, p.lidocaine_ml, p.discarded_ml
				from series s
					left join session t on t.series_id = s.id
					left join staff f on f.id = t.practitioner_id
					left join preparation p on p.session_id = t.id
				where s.patient_id = (select patient_id from series where id = :series)
				order by s.number, t.number, p.number""").param("series", id.value()).query(course::read);
		return course;
	}

	/** What the rows of all series, sessions and preparations of a patient add up to. */
	private static final class Course {

		private final Map<UUID, SeriesSummary> series = new LinkedHashMap<>();

		private final Map<UUID, SessionRow> sessions = new LinkedHashMap<>();

		void read(ResultSet row) throws SQLException {
			var id = id(row, "id");
			if (!this.series.containsKey(id)) {
				this.series.put(id, series(row));
			}
			var session = row.getObject("session_id", UUID.class);
			if (session != null && !this.sessions.containsKey(session)) {
				this.sessions.put(session, session(row));
			}
			if (session != null && row.getString("preparation_id") != null) {
				this.sessions.get(session).preparations.add(preparation(row));
			}
		}

		List<SessionEntry> sessions(Map<UUID, List<RecordedInjection>> injections) {
			return this.sessions.entrySet()
				.stream()
				.map((entry) -> entry.getValue().entry(injections.getOrDefault(entry.getKey(), List.of())))
				.sorted(Comparator.comparingInt(SessionEntry::number))
				.toList();
		}

		private static SeriesSummary series(ResultSet row) throws SQLException {
			return new SeriesSummary(new SeriesId(id(row, "id")), new PatientId(id(row, "patient_id")),
					row.getInt("number"), row.getString("goal"), row.getObject("planned_sessions", Integer.class),
					constant(SeriesStatus.class, row, "status"), row.getObject("ended_on", LocalDate.class),
					row.getString("reason"), row.getInt("protocol_version"));
		}

		/** Reads everything but the preparations, which are spread over the rows. */
		private static SessionRow session(ResultSet row) throws SQLException {
			var id = new SessionId(id(row, "session_id"));
			var patient = new PatientId(id(row, "patient_id"));
			var series = new SeriesId(id(row, "id"));
			var number = row.getInt("session_number");
			var treatedOn = day(row, "treated_on");
			var practitioner = new StaffId(id(row, "practitioner_id"));
			var weight = row.getBigDecimal("weight_kg");
			var combination = nullable(Combination.class, row, "combination");
			var rfDepth = row.getBigDecimal("rf_depth_mm");
			var topical = row.getObject("topical_minutes", Integer.class);
			var oral = row.getObject("oral_analgesic", Boolean.class);
			var vibration = row.getObject("vibration", Boolean.class);
			var pain = row.getObject("pain_nrs", Integer.class);
			var massage = row.getObject("massage", Boolean.class);
			return new SessionRow((preparations, injections) -> new RecordedSession(id, patient, series, number,
					treatedOn, practitioner, weight, combination, rfDepth, topical, oral, vibration, pain, massage,
					preparations, injections), row.getString("practitioner"), new ArrayList<>());
		}

		private static RecordedPreparation preparation(ResultSet row) throws SQLException {
			return new RecordedPreparation(new PreparationId(id(row, "preparation_id")),
					row.getInt("preparation_number"), row.getString("product"), row.getString("lot"),
					row.getObject("expires_on", LocalDate.class), row.getBigDecimal("vial_mg"),
					row.getBigDecimal("diluent_ml"), row.getBigDecimal("stock_drawn_ml"),
					row.getBigDecimal("added_diluent_ml"), row.getBigDecimal("lidocaine_percent"),
					row.getBigDecimal("lidocaine_ml"), row.getBigDecimal("discarded_ml"));
		}

	}

	private record SessionRow(BiFunction<List<RecordedPreparation>, List<RecordedInjection>, RecordedSession> session,
			String practitioner, List<RecordedPreparation> preparations) {

		SessionEntry entry(List<RecordedInjection> injections) {
			return new SessionEntry(this.session.apply(this.preparations, injections), this.practitioner);
		}

	}

	private Map<UUID, List<RecordedInjection>> injections(PatientId patient) {
		var bySession = new HashMap<UUID, List<RecordedInjection>>();
		this.database.sql("""
				select session_id, number, preparation_id, region, scar_id, target, layer, points, volume_ml,
					needle_gauge, needle_mm, blanching, bleeding, base_lifted, lump_raised, second_direction, pain_nrs
				from injection
				where patient_id = :patient
				order by number""").param("patient", patient.value()).query((row) -> {
			bySession.computeIfAbsent(id(row, "session_id"), (session) -> new ArrayList<>()).add(injection(row));
		});
		return bySession;
	}

	private static RecordedInjection injection(ResultSet row) throws SQLException {
		var preparation = row.getObject("preparation_id", UUID.class);
		var scar = row.getObject("scar_id", UUID.class);
		return new RecordedInjection(row.getInt("number"),
				(preparation != null) ? new PreparationId(preparation) : null, constant(Region.class, row, "region"),
				(scar != null) ? new ScarId(scar) : null, constant(Target.class, row, "target"),
				nullable(Layer.class, row, "layer"), row.getObject("points", Integer.class),
				row.getBigDecimal("volume_ml"), row.getObject("needle_gauge", Integer.class),
				row.getBigDecimal("needle_mm"),
				new RecordedInjection.Endpoints(row.getObject("blanching", Boolean.class),
						row.getObject("bleeding", Boolean.class), row.getObject("base_lifted", Boolean.class),
						row.getObject("lump_raised", Boolean.class), row.getObject("second_direction", Boolean.class)),
				row.getObject("pain_nrs", Integer.class));
	}

	private List<ScarEntry> scars(PatientId patient) {
		var scars = new LinkedHashMap<UUID, TrackedScar>();
		var assessments = new HashMap<UUID, List<ScarAssessmentEntry>>();
		var classified = new HashSet<UUID>();
		this.database.sql("""
				select s.id, s.label, s.region, s.type, s.map_x, s.map_y, s.first_recorded_on, a.assessed_on,
					f.name as assessor, a.length_mm, a.width_mm, a.depth_mm, a.depth_method, a.depth_class, a.severity,
					a.response, exists (select from scar_state c where c.scar_id = s.id) as classified
				from scar s
					left join scar_assessment a on a.scar_id = s.id
					left join staff f on f.id = a.assessor_id
				where s.patient_id = :patient
				order by regexp_replace(s.label, '[0-9]+$', ''),
					substring(s.label from '[0-9]+$')::numeric nulls first, s.label, a.assessed_on, f.name, a.repeat""")
			.param("patient", patient.value())
			.query((row) -> {
				var id = id(row, "id");
				if (!scars.containsKey(id)) {
					scars.put(id, scar(row));
					if (row.getBoolean("classified")) {
						classified.add(id);
					}
				}
				if (row.getString("assessor") != null) {
					assessments.computeIfAbsent(id, (scar) -> new ArrayList<>()).add(assessment(row));
				}
			});
		var states = classified.isEmpty() ? Map.<UUID, List<ScarStateEntry>>of() : states(patient);
		return scars.entrySet()
			.stream()
			.map((entry) -> new ScarEntry(entry.getValue(), assessments.getOrDefault(entry.getKey(), List.of()),
					states.getOrDefault(entry.getKey(), List.of())))
			.toList();
	}

	private Map<UUID, List<ScarStateEntry>> states(PatientId patient) {
		var states = new HashMap<UUID, List<ScarStateEntry>>();
		this.database.sql("""
				select s.scar_id, s.assessed_on, f.name as assessor, s.state, s.reason,
					(select string_agg(other.label, ', ' order by other.label) from scar other
						where other.id = any (s.into_scars)) as into_labels
				from scar_state s join staff f on f.id = s.assessor_id
				where s.patient_id = :patient
				order by s.assessed_on, f.name""").param("patient", patient.value()).query((row) -> {
			states.computeIfAbsent(id(row, "scar_id"), (scar) -> new ArrayList<>())
				.add(new ScarStateEntry(day(row, "assessed_on"), row.getString("assessor"),
						constant(ScarStanding.class, row, "state"), row.getString("into_labels"),
						row.getString("reason")));
		});
		return states;
	}

	private static TrackedScar scar(ResultSet row) throws SQLException {
		return new TrackedScar(new ScarId(id(row, "id")), row.getString("label"), constant(Region.class, row, "region"),
				constant(ScarType.class, row, "type"), row.getBigDecimal("map_x"), row.getBigDecimal("map_y"),
				day(row, "first_recorded_on"));
	}

	private static ScarAssessmentEntry assessment(ResultSet row) throws SQLException {
		return new ScarAssessmentEntry(day(row, "assessed_on"), row.getString("assessor"),
				row.getBigDecimal("length_mm"), row.getBigDecimal("width_mm"), row.getBigDecimal("depth_mm"),
				nullable(DepthMethod.class, row, "depth_method"), nullable(DepthClass.class, row, "depth_class"),
				row.getObject("severity", Integer.class), row.getObject("response", Integer.class));
	}

	private List<FindingEntry> findings(PatientId patient, List<SessionEntry> sessions) {
		var findings = new LinkedHashMap<UUID, FindingRow>();
		this.database.sql("""
				select f.id, f.code, f.session_id, f.kind, f.region, f.scar_id, s.label as scar_label, f.first_noted_on,
					f.grade, f.serious, f.gone_on, f.closed_on, f.closed_by, c.name as closed_by_name, f.closing_reason,
					o.observed_on, o.reporter, o.channel, o.present, o.size_mm
				from finding f
					left join scar s on s.id = f.scar_id
					left join staff c on c.id = f.closed_by
					left join finding_observation o on o.finding_id = f.id
				where f.patient_id = :patient
				order by f.first_noted_on, f.code, o.observed_on, o.present, o.id""")
			.param("patient", patient.value())
			.query((row) -> {
				var id = id(row, "id");
				if (!findings.containsKey(id)) {
					findings.put(id, new FindingRow(finding(row, patient), row.getString("closed_by_name")));
				}
				if (row.getString("reporter") != null) {
					findings.get(id).observations.add(observation(row));
				}
			});
		return findings.values().stream().map((row) -> {
			var finding = row.finding.apply(row.observations);
			var session = sessions.stream().filter((entry) -> entry.id().equals(finding.session())).findFirst();
			return new FindingEntry(finding, session.orElse(null), row.closedBy);
		}).toList();
	}

	/**
	 * Reads everything but the observations, which are spread over the rows that follow.
	 */
	private static Function<List<RecordedObservation>, RecordedFinding> finding(ResultSet row, PatientId patient)
			throws SQLException {
		var id = new FindingId(id(row, "id"));
		var code = row.getString("code");
		var session = row.getObject("session_id", UUID.class);
		var kind = constant(FindingKind.class, row, "kind");
		var region = nullable(Region.class, row, "region");
		var scar = row.getObject("scar_id", UUID.class);
		var scarLabel = row.getString("scar_label");
		var firstNotedOn = day(row, "first_noted_on");
		var grade = row.getObject("grade", Integer.class);
		var serious = row.getObject("serious", Boolean.class);
		var goneOn = row.getObject("gone_on", LocalDate.class);
		var closedOn = row.getObject("closed_on", LocalDate.class);
		var closedBy = row.getObject("closed_by", UUID.class);
		var closingReason = row.getString("closing_reason");
		return (observations) -> new RecordedFinding(id, code, patient,
				(session != null) ? new SessionId(session) : null, kind, region,
				(scar != null) ? new ScarId(scar) : null, scarLabel, firstNotedOn, grade, serious, goneOn, closedOn,
				(closedBy != null) ? new StaffId(closedBy) : null, closingReason, observations);
	}

	private static RecordedObservation observation(ResultSet row) throws SQLException {
		return new RecordedObservation(day(row, "observed_on"), constant(Reporter.class, row, "reporter"),
				constant(Channel.class, row, "channel"), row.getBoolean("present"), row.getBigDecimal("size_mm"));
	}

	private List<RecordedContact> contacts(PatientId patient) {
		return this.database.sql("""
				select id, session_id, contacted_on, channel, outcome, lumps_present, pain_nrs, note
				from contact
				where patient_id = :patient
				order by contacted_on, id""")
			.param("patient", patient.value())
			.query((row, index) -> new RecordedContact(new ContactId(id(row, "id")), patient,
					new SessionId(id(row, "session_id")), day(row, "contacted_on"),
					constant(Channel.class, row, "channel"), constant(ContactOutcome.class, row, "outcome"),
					row.getObject("lumps_present", Boolean.class), row.getObject("pain_nrs", Integer.class),
					row.getString("note")))
			.list();
	}

	private List<AppointmentEntry> upcoming(PatientId patient) {
		return this.database.sql("""
				select a.id, p.name as practitioner, a.starts_at, a.purpose, a.status
				from appointment a join staff p on p.id = a.practitioner_id
				where a.patient_id = :patient and a.status in ('booked', 'arrived')
				order by a.starts_at""").param("patient", patient.value()).query(SeriesRecords::appointment).list();
	}

	static AppointmentEntry appointment(ResultSet row, int index) throws SQLException {
		return new AppointmentEntry(id(row, "id"), row.getString("practitioner"),
				row.getObject("starts_at", OffsetDateTime.class).toInstant(),
				constant(AppointmentPurpose.class, row, "purpose"), constant(AppointmentStatus.class, row, "status"));
	}

	/** Pores, scales of the whole face and counts: few rows each, so one statement. */
	private Face face(PatientId patient) {
		var face = new Face(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
		this.database.sql("""
				select what, subject, item, assessed_on, assessor_id, f.name as assessor, value, density
				from (
					select 'pores' as what, region::text as subject, null as item, assessed_on, assessor_id,
						grade::numeric as value, pores_per_cm2 as density
					from pore_assessment where patient_id = :patient
					union all
					select 'scale', scale, item, assessed_on, assessor_id, value, null
					from global_assessment where patient_id = :patient
					union all
					select 'count', region::text, type, assessed_on, assessor_id, count::numeric, null
					from scar_count where patient_id = :patient) seen
					join staff f on f.id = assessor_id
				order by assessed_on, f.name, what, subject, item""").param("patient", patient.value()).query((row) -> {
			var on = day(row, "assessed_on");
			var assessor = row.getString("assessor");
			var value = row.getBigDecimal("value");
			switch (row.getString("what")) {
				case "pores" -> face.pores.add(new PoreEntry(constant(Region.class, row, "subject"), on, assessor,
						(value != null) ? value.intValueExact() : null, row.getBigDecimal("density")));
				case "scale" -> face.globals
					.add(new GlobalEntry(row.getString("subject"), row.getString("item"), on, assessor, value));
				default -> face.counts.add(
						new CountEntry(constant(Region.class, row, "subject"), constant(CountedType.class, row, "item"),
								on, new StaffId(id(row, "assessor_id")), assessor, value.intValueExact()));
			}
		});
		return face;
	}

	private static UUID id(ResultSet row, String column) throws SQLException {
		return row.getObject(column, UUID.class);
	}

	private static LocalDate day(ResultSet row, String column) throws SQLException {
		return row.getObject(column, LocalDate.class);
	}

	private static <E extends Enum<E>> E constant(Class<E> type, ResultSet row, String column) throws SQLException {
		return Enum.valueOf(type, row.getString(column).toUpperCase(Locale.ROOT));
	}

	private static <E extends Enum<E>> @Nullable E nullable(Class<E> type, ResultSet row, String column)
			throws SQLException {
		return (row.getString(column) != null) ? constant(type, row, column) : null;
	}

	private record FindingRow(Function<List<RecordedObservation>, RecordedFinding> finding, @Nullable String closedBy,
			List<RecordedObservation> observations) {

		FindingRow(Function<List<RecordedObservation>, RecordedFinding> finding, @Nullable String closedBy) {
			this(finding, closedBy, new ArrayList<>());
		}

	}

	private record Face(List<PoreEntry> pores, List<GlobalEntry> globals, List<CountEntry> counts) {
	}

}
