package org.seriatim.screening.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.screening.Answer;
import org.seriatim.screening.AskedItem;
import org.seriatim.screening.BodyWeight;
import org.seriatim.screening.DayPlan;
import org.seriatim.screening.GivenAnswer;
import org.seriatim.screening.Numbing;
import org.seriatim.screening.NumbingPlan;
import org.seriatim.screening.Screening;
import org.seriatim.screening.Screening.Setting;
import org.seriatim.screening.ScreeningDecision;
import org.seriatim.screening.ScreeningRecords;
import org.seriatim.screening.TreatmentConsent;
import org.seriatim.screening.Verdict;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
@Transactional(readOnly = true)
class RecordedScreening implements ScreeningRecords {

	private final JdbcClient database;

	private final ScreeningLists lists;

	private final PatientDirectory patients;

	private final Clock clock;

	RecordedScreening(JdbcClient database, ScreeningLists lists, PatientDirectory patients, Clock clock) {
		this.database = database;
		this.lists = lists;
		this.patients = patients;
		this.clock = clock;
	}

	@Override
	public Screening of(PatientId patient, LocalDate day, @Nullable LocalDate lastTreatedOn, boolean radiofrequency,
			boolean prilocaine) {
		var consented = consentsOf(patient).stream().anyMatch((consent) -> consent.isInForceOn(day));
		var setting = new Setting(day, plan(patient, day).using(radiofrequency, prilocaine),
				this.patients.requireExisting(patient).birthDate(), consented, lastTreatedOn);
		return Screening.of(setting, this.lists.inForceOn(day), answersUntil(patient, day), decisionsOn(patient, day));
	}

	DayPlan plan(PatientId patient, LocalDate day) {
		return this.database.sql("""
				select id, radiofrequency, prilocaine, version from screening_plan
				where patient_id = :patient and planned_for = :day""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row, index) -> new DayPlan(row.getObject("id", UUID.class),
					row.getObject("radiofrequency", Boolean.class), row.getObject("prilocaine", Boolean.class),
					row.getLong("version")))
			.optional()
			.orElse(DayPlan.UNKNOWN);
	}

	/** The latest answer to each item up to a day. */
	private List<GivenAnswer> answersUntil(PatientId patient, LocalDate day) {
		return this.database
			.sql("""
					select distinct on (item) id, item, question, asked_on, answer, asked_by, confirmed_by, note, last_dose_on,
						list_version, version
					from screening_answer
					where patient_id = :patient and asked_on <= :day
					order by item, asked_on desc""")
			.param("patient", patient.value())
			.param("day", day)
			.query(RecordedScreening::answer)
			.list();
	}

	static GivenAnswer answer(ResultSet row, int index) throws SQLException {
		return new GivenAnswer(row.getObject("id", UUID.class), asked(row), row.getObject("asked_on", LocalDate.class),
				Answer.ofWord(row.getString("answer")), Objects.requireNonNull(staff(row, "asked_by")),
				staff(row, "confirmed_by"), row.getString("note"), row.getObject("last_dose_on", LocalDate.class),
				row.getLong("version"));
	}

	private static AskedItem asked(ResultSet row) throws SQLException {
		return new AskedItem(row.getString("item"), row.getInt("list_version"), row.getString("question"));
	}

	private List<ScreeningDecision> decisionsOn(PatientId patient, LocalDate day) {
		return this.database
			.sql("""
					select id, item, question, decided_on, about, verdict, reason, decided_by, recorded_at, list_version, version
					from screening_decision where patient_id = :patient and decided_on = :day""")
			.param("patient", patient.value())
			.param("day", day)
			.query(RecordedScreening::decision)
			.list();
	}

	private static ScreeningDecision decision(ResultSet row, int index) throws SQLException {
		return new ScreeningDecision(row.getObject("id", UUID.class), asked(row),
				row.getObject("decided_on", LocalDate.class), Answer.ofWord(row.getString("about")),
				Verdict.ofWord(row.getString("verdict")), row.getString("reason"),
				Objects.requireNonNull(staff(row, "decided_by")), time(row, "recorded_at"), row.getLong("version"));
	}

	@Override
	public List<BodyWeight> weightsOf(PatientId patient) {
		return this.database.sql("""
				select id, weighed_on, weight_kg, version from body_weight
				where patient_id = :patient order by weighed_on desc""")
			.param("patient", patient.value())
			.query((row, index) -> new BodyWeight(row.getObject("id", UUID.class),
					row.getObject("weighed_on", LocalDate.class), row.getBigDecimal("weight_kg"),
					row.getLong("version")))
			.list();
	}

	@Override
	public List<TreatmentConsent> consentsOf(PatientId patient) {
		return this.database
			.sql("""
					select id, given_on, document_reference, withdrawn_on, recorded_at, recorded_by, correction_reason, version
					from treatment_consent where patient_id = :patient order by given_on desc, recorded_at desc""")
			.param("patient", patient.value())
			.query((row, index) -> new TreatmentConsent(row.getObject("id", UUID.class),
					row.getObject("given_on", LocalDate.class), row.getString("document_reference"),
					row.getObject("withdrawn_on", LocalDate.class),
					new Recorded(time(row, "recorded_at"), staff(row, "recorded_by"),
							row.getString("correction_reason")),
					row.getLong("version")))
			.list();
	}

	/** Also one of an earlier day that nobody stopped. */
	@Override
	public List<Numbing> numbingOf(PatientId patient, LocalDate day) {
		var zone = this.clock.getZone();
		return this.database.sql("""
				select id, started_at, stopped_at, version from numbing
				where patient_id = :patient and (started_at >= :from and started_at < :until
					or stopped_at is null and started_at < :from)
				order by started_at""")
			.param("patient", patient.value())
			.param("from", day.atStartOfDay(zone).toOffsetDateTime())
			.param("until", day.plusDays(1).atStartOfDay(zone).toOffsetDateTime())
			.query((row, index) -> {
				var stopped = row.getObject("stopped_at", OffsetDateTime.class);
				return new Numbing(row.getObject("id", UUID.class), time(row, "started_at"),
						(stopped != null) ? stopped.toInstant() : null, row.getLong("version"));
			})
			.list();
	}

	@Override
	public Optional<Integer> numbingMinutes(PatientId patient, LocalDate day) {
		return numbingOf(patient, day).stream()
			.filter((numbing) -> !numbing.isOn())
			.map((numbing) -> numbing.minutes(this.clock.instant()))
			.reduce(Integer::sum);
	}

	@Override
	public Optional<NumbingPlan> numbingPlanOf(PatientId patient) {
		return this.database.sql("select id, minutes, version from numbing_plan where patient_id = :patient")
			.param("patient", patient.value())
			.query((row, index) -> new NumbingPlan(row.getObject("id", UUID.class), row.getInt("minutes"),
					row.getLong("version")))
			.optional();
	}

	private static @Nullable StaffId staff(ResultSet row, String column) throws SQLException {
		var id = row.getObject(column, UUID.class);
		return (id != null) ? new StaffId(id) : null;
	}

	private static Instant time(ResultSet row, String column) throws SQLException {
		return row.getObject(column, OffsetDateTime.class).toInstant();
	}

}
