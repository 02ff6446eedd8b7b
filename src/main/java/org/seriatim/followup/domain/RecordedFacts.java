package org.seriatim.followup.domain;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarClassification;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarRating;
import org.seriatim.assessment.ScarStanding;
import org.seriatim.assessment.ScarType;
import org.seriatim.finding.ContactFacts;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingFacts;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.ObservationFacts;
import org.seriatim.followup.SeriesFacts;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.SkinThickness;
import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SessionFacts;
import org.seriatim.treatment.SessionId;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Assembles the facts of open series from the record, for one patient or for hundreds
 * with the same ten statements.
 */
@Component
class RecordedFacts {

	private final JdbcClient database;

	RecordedFacts(JdbcClient database) {
		this.database = database;
	}

	/** Patients with a series that was open on a day, in the order of their numbers. */
	List<PatientId> patientsWithOpenSeries(LocalDate day) {
		return this.database.sql("""
				select id from patient
				where exists (
					select from series
					where series.patient_id = patient.id and (status = 'open' or ended_on > :day))
				order by record_number""")
			.param("day", day)
			.query((row, index) -> new PatientId(row.getObject("id", UUID.class)))
			.list();
	}

	/** The series of these patients that were open on a day, as they were known then. */
	List<RecordedSeries> openSeries(Collection<PatientId> patients, LocalDate day) {
		var reading = new Reading(patients, day);
		var sessions = reading.sessions();
		var findings = reading.findings();
		var contacts = reading.contacts();
		var scars = reading.scars();
		var assessed = reading.assessedOn();
		return reading.of("""
				select series.id, patient_id, record_number, status, ended_on, skin_thickness
				from series join patient on patient.id = patient_id
				where patient_id = any(cast(:patients as uuid[])) and (status = 'open' or ended_on > :day)
				order by record_number, series.number""").query((row, index) -> {
			var patient = row.getObject("patient_id", UUID.class);
			return new RecordedSeries(new PatientId(patient), row.getString("record_number"),
					new SeriesFacts(new SeriesId(row.getObject("id", UUID.class)),
							constant(SeriesStatus.class, row.getString("status")),
							row.getObject("ended_on", LocalDate.class),
							nullable(SkinThickness.class, row.getString("skin_thickness")),
							sessions.getOrDefault(patient, List.of()), findings.getOrDefault(patient, List.of()),
							contacts.getOrDefault(patient, List.of()), scars.getOrDefault(patient, List.of()),
							assessed.getOrDefault(patient, List.of()))
						.asOf(day));
		}).list();
	}

	private static <E extends Enum<E>> E constant(Class<E> type, String word) {
		return Enum.valueOf(type, word.toUpperCase(Locale.ROOT));
	}

	private static <E extends Enum<E>> @Nullable E nullable(Class<E> type, @Nullable String word) {
		return (word != null) ? constant(type, word) : null;
	}

	private static @Nullable ScarId scar(ResultSet row) throws SQLException {
		var scar = row.getObject("scar_id", UUID.class);
		return (scar != null) ? new ScarId(scar) : null;
	}

	private static @Nullable Double number(@Nullable BigDecimal decimal) {
		return (decimal != null) ? decimal.doubleValue() : null;
	}

	/** What one row adds to the record of a patient. */
	@FunctionalInterface
	private interface RowOf<T> {

		T read(ResultSet row) throws SQLException;

	}

	/** The statements about one set of patients and one day. */
	private final class Reading {

		private final String patients;

		private final LocalDate day;

		Reading(Collection<PatientId> patients, LocalDate day) {
			// a set of ids travels as one text, so that the statement is always the same
			this.patients = patients.stream().map(PatientId::toString).collect(Collectors.joining(",", "{", "}"));
			this.day = day;
		}

		JdbcClient.StatementSpec of(String sql) {
			return RecordedFacts.this.database.sql(sql).param("patients", this.patients).param("day", this.day);
		}

		private <T> Map<UUID, List<T>> by(String owner, String sql, RowOf<T> read) {
			var owned = new HashMap<UUID, List<T>>();
			of(sql).query((row) -> {
				owned.computeIfAbsent(row.getObject(owner, UUID.class), (id) -> new ArrayList<>()).add(read.read(row));
			});
			return owned;
		}

		Map<UUID, List<SessionFacts>> sessions() {
			var injections = injectionsOfLastSessions();
			return by("patient_id", """
					select id, patient_id, series_id, number, treated_on, pain_nrs
					from session
					where patient_id = any(cast(:patients as uuid[])) and treated_on <= :day
					order by patient_id, number""",
					(row) -> new SessionFacts(new SessionId(row.getObject("id", UUID.class)),
							new SeriesId(row.getObject("series_id", UUID.class)), row.getInt("number"),
							row.getObject("treated_on", LocalDate.class), row.getObject("pain_nrs", Integer.class),
							injections.getOrDefault(row.getObject("id", UUID.class), List.of())));
		}

		private Map<UUID, List<InjectionFacts>> injectionsOfLastSessions() {
			return by("session_id", """
					select session_id, region, scar_id, layer, points, volume_ml, pain_nrs
					from injection
					where session_id in (
						select distinct on (session.series_id) session.id
						from session join series on series.id = session.series_id
						where session.patient_id = any(cast(:patients as uuid[])) and treated_on <= :day
							and (status = 'open' or ended_on > :day)
						order by session.series_id, session.number desc)
					order by session_id, number""",
					(row) -> new InjectionFacts(constant(Region.class, row.getString("region")), scar(row),
							nullable(Layer.class, row.getString("layer")), row.getObject("points", Integer.class),
							number(row.getBigDecimal("volume_ml")), row.getObject("pain_nrs", Integer.class)));
		}

		Map<UUID, List<FindingFacts>> findings() {
			var observations = by("finding_id", """
					select finding_id, observed_on, present
					from finding_observation join finding on finding.id = finding_id
					where patient_id = any(cast(:patients as uuid[])) and observed_on <= :day
					order by observed_on, finding_observation.id""",
					(row) -> new ObservationFacts(row.getObject("observed_on", LocalDate.class),
							row.getBoolean("present")));
			return by("patient_id", """
					select finding.id, finding.patient_id, session_id, kind, finding.region, scar_id, scar.label,
						first_noted_on, grade, serious, gone_on, closed_on
					from finding left join scar on scar.id = scar_id
					where finding.patient_id = any(cast(:patients as uuid[])) and first_noted_on <= :day
					order by first_noted_on, code""", (row) -> {
				var id = row.getObject("id", UUID.class);
				var session = row.getObject("session_id", UUID.class);
				return new FindingFacts(new FindingId(id), (session != null) ? new SessionId(session) : null,
						constant(FindingKind.class, row.getString("kind")),
						nullable(Region.class, row.getString("region")), scar(row), row.getString("label"),
						row.getObject("first_noted_on", LocalDate.class), row.getObject("grade", Integer.class),
						row.getBoolean("serious"), row.getObject("gone_on", LocalDate.class),
						row.getObject("closed_on", LocalDate.class), observations.getOrDefault(id, List.of()));
			});
		}

		Map<UUID, List<ContactFacts>> contacts() {
			return by("patient_id", """
					select patient_id, session_id, contacted_on, outcome, lumps_present
					from contact
					where patient_id = any(cast(:patients as uuid[])) and contacted_on <= :day
					order by contacted_on, id""",
					(row) -> new ContactFacts(new SessionId(row.getObject("session_id", UUID.class)),
							row.getObject("contacted_on", LocalDate.class),
							constant(ContactOutcome.class, row.getString("outcome")),
							row.getObject("lumps_present", Boolean.class)));
		}

		Map<UUID, List<RatedScar>> scars() {
			var ratings = by("scar_id", """
					select scar_id, assessed_on, depth_mm, depth_method, severity
					from scar_assessment
					where patient_id = any(cast(:patients as uuid[])) and assessed_on <= :day
						and (depth_mm is not null or severity is not null)
					order by assessed_on, id""", (row) -> new ScarRating(row.getObject("assessed_on", LocalDate.class),
					number(row.getBigDecimal("depth_mm")), nullable(DepthMethod.class, row.getString("depth_method")),
					row.getObject("severity", Integer.class)));
			var states = by("scar_id", """
					select scar_id, assessed_on, state
					from scar_state
					where patient_id = any(cast(:patients as uuid[])) and assessed_on <= :day
					order by assessed_on, id""",
					(row) -> new ScarClassification(row.getObject("assessed_on", LocalDate.class),
							constant(ScarStanding.class, row.getString("state"))));
			return by("patient_id", """
					select id, patient_id, label, region, type
					from scar
					where patient_id = any(cast(:patients as uuid[])) and first_recorded_on <= :day
					order by label""", (row) -> {
				var id = row.getObject("id", UUID.class);
				return new RatedScar(new ScarId(id), row.getString("label"),
						constant(Region.class, row.getString("region")),
						constant(ScarType.class, row.getString("type")), ratings.getOrDefault(id, List.of()),
						states.getOrDefault(id, List.of()));
			});
		}

		Map<UUID, List<LocalDate>> assessedOn() {
			return by("patient_id", """
					select patient_id, assessed_on from scar_assessment
					where patient_id = any(cast(:patients as uuid[])) and assessed_on <= :day
					union
					select patient_id, assessed_on from pore_assessment
					where patient_id = any(cast(:patients as uuid[])) and assessed_on <= :day
					union
					select patient_id, assessed_on from global_assessment
					where patient_id = any(cast(:patients as uuid[])) and assessed_on <= :day
					union
					select patient_id, assessed_on from scar_state
					where patient_id = any(cast(:patients as uuid[])) and assessed_on <= :day and state = 'resolved'
					order by patient_id, assessed_on""", (row) -> row.getObject("assessed_on", LocalDate.class));
		}

	}

}
