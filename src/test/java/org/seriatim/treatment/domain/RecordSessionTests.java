package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;

import jakarta.persistence.EntityManager;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.EarlierVersions.ChangedValue;
import org.seriatim.access.EarlierVersions.Fate;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.Handling;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.TestTreatment;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.domain.SessionDetails.Injected;
import org.seriatim.treatment.domain.SessionDetails.Prepared;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.context.event.ApplicationEvents;
import org.springframework.test.context.event.RecordApplicationEvents;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

@DatabaseTest
@SignedInAs(Role.PRACTITIONER)
@RecordApplicationEvents
class RecordSessionTests {

	@Autowired
	RecordSession recordSession;

	@Autowired
	TreatmentHistory history;

	@Autowired
	EarlierVersions earlierVersions;

	@Autowired
	EntityManager entities;

	@Autowired
	JdbcClient database;

	@Autowired
	TestClock clock;

	@Autowired
	ApplicationEvents events;

	PatientId patient;

	SeriesId series;

	ScarId scar;

	TestTreatment given;

	@BeforeEach
	void aPatientInTreatment() {
		this.given = new TestTreatment(this.database);
		this.patient = this.given.patient("T-1");
		this.given.screened(this.patient, "2026-11-20");
		this.series = this.given.series(this.patient);
		this.scar = this.given.scar(this.patient, "A1", Region.CHEEK_MEDIAL_LEFT);
	}

	@Test
	void keepsEverythingThatWasSaid() {
		var id = this.recordSession.in(this.series, details(List.of(vial(1, "0.40"), vial(2, null)),
				List.of(placed(1, 1, "0.220"), placed(2, 2, null), placed(3, null, "1"))));
		this.entities.clear();

		var session = this.history.session(id).orElseThrow();
		assertThat(session.patient()).isEqualTo(this.patient);
		assertThat(session.series()).isEqualTo(this.series);
		assertThat(session.treatedOn()).isEqualTo("2026-11-20");
		assertThat(session.weightKg()).isEqualByComparingTo("61.3");
		assertThat(session.combination()).isEqualTo(Combination.RF_AFTER);
		assertThat(session.rfDepthMm()).isEqualByComparingTo("1.5");
		assertThat(session.topicalMinutes()).isEqualTo(40);
		assertThat(session.oralAnalgesic()).isFalse();
		assertThat(session.vibration()).isTrue();
		assertThat(session.painNrs()).isEqualTo(3);
		assertThat(session.massage()).isNull();
		assertThat(session.preparations()).extracting(RecordedPreparation::number).containsExactly(1, 2);
		var preparation = session.preparations().get(0);
		assertThat(preparation.product()).isEqualTo("biostimulator A");
		assertThat(preparation.lot()).isEqualTo("L1");
		assertThat(preparation.expiresOn()).isEqualTo("2027-01-31");
		assertThat(preparation.discardedMl()).isEqualTo("0.40");
		assertThat(session.preparations().get(1).discardedMl()).isNull();
		assertThat(session.injections()).extracting(RecordedInjection::preparation)
			.containsExactly(preparation.id(), session.preparations().get(1).id(), null);
		var injection = session.injections().get(0);
		assertThat(injection.region()).isEqualTo(Region.CHEEK_MEDIAL_LEFT);
		assertThat(injection.scar()).isEqualTo(this.scar);
		assertThat(injection.layer()).isEqualTo(Layer.MID_DERMIS);
		assertThat(injection.volumeMl()).isEqualTo("0.220");
		assertThat(injection.endpoints()).isEqualTo(new RecordedInjection.Endpoints(true, false, null, null, true));
	}

	@Test
	void saysThatTheRecordChangedAndWhoChangedIt() {
		var id = this.recordSession.in(this.series, details(List.of(), List.of()));
		assertThat(this.events.stream(PatientRecordChanged.class))
			.containsExactly(new PatientRecordChanged(this.patient));
		assertThat(this.database.sql("""
				select action || ' ' || kind from audit_entry
				where entry_id = :id and patient_id = :patient and staff_id is not null""")
			.param("id", id.value())
			.param("patient", this.patient.value())
			.query(String.class)
			.list()).containsExactly("created session");
	}

	@Test
	void refusesWhatBreaksARule() {
		this.given.session(this.series, 1, "2026-11-19");
		assertThatExceptionOfType(SessionRefused.class)
			.isThrownBy(() -> this.recordSession.in(this.series, details(List.of(), List.of())))
			.satisfies((refused) -> assertThat(refused.faults()).extracting(SessionFault::rule)
				.containsExactly(SessionRule.NUMBER_TAKEN));
		assertThat(this.events.stream(PatientRecordChanged.class)).isEmpty();
	}

	@Test
	void correctsWithANewVersionOfWhatChangedOnly() {
		var id = recorded();
		correct(id, details(List.of(vial(1, "0.50"), vial(2, null)),
				List.of(placed(1, 1, "0.220"), placed(3, 2, "1"), placed(4, 1, "0.1"))));

		var session = this.history.session(id).orElseThrow();
		assertThat(session.preparations()).extracting(RecordedPreparation::discardedMl)
			.containsExactly(new BigDecimal("0.50"), null);
		assertThat(session.injections()).extracting(RecordedInjection::number).containsExactly(1, 3, 4);
		assertThat(versions("session", "id", id)).containsExactly(1L);
		assertThat(versions("preparation", "session_id", id)).containsExactly(1L, 0L);
		assertThat(versions("injection", "session_id", id)).containsExactly(0L, 1L, 0L);
	}

	@Test
	void keepsTheOldVersionReadable() {
		var id = recorded();
		correct(id, details(List.of(vial(1, "0.50"), vial(2, null)),
				List.of(placed(1, 1, "0.220"), placed(3, 2, "1"), placed(4, 1, "0.1"))));

		var corrections = this.earlierVersions.of("session", id.value(),
				Map.of("preparation", "session_id", "injection", "session_id"));
		assertThat(corrections).hasSize(1);
		assertThat(corrections.get(0).reason()).isEqualTo("misread");
		assertThat(corrections.get(0).by()).isNotNull();
		assertThat(corrections.get(0).at()).isEqualTo(TestClock.START.plus(Duration.ofHours(1)));
		assertThat(corrections.get(0).changes())
			.extracting((change) -> change.table() + " " + change.number() + " " + change.fate())
			.containsExactlyInAnyOrder("preparation 1 CORRECTED", "injection 2 TAKEN_OUT", "injection 3 CORRECTED",
					"injection 4 ADDED");
		assertThat(corrections.get(0).changes()).filteredOn((change) -> change.table().equals("preparation"))
			.flatExtracting(EarlierVersions.Change::values)
			.containsExactly(new ChangedValue("discarded_ml", "0.40", "0.50"));
		assertThat(corrections.get(0).changes()).filteredOn((change) -> change.fate() == Fate.TAKEN_OUT)
			.flatExtracting(EarlierVersions.Change::values)
			.contains(new ChangedValue("region", "cheek_medial_left", null),
					new ChangedValue("layer", "mid_dermis", null));
	}

	@Test
	void takesOutAPreparationTogetherWithItsInjections() {
		var id = recorded();
		correct(id, details(List.of(vial(2, null)), List.of(placed(2, 2, null))));
		var session = this.history.session(id).orElseThrow();
		assertThat(session.preparations()).extracting(RecordedPreparation::number).containsExactly(2);
		assertThat(session.injections()).extracting(RecordedInjection::number).containsExactly(2);
		this.database.sql("set constraints all immediate").update();
	}

	@Test
	void writesNothingWhenNothingChanged() {
		var id = recorded();
		correct(id, original());
		assertThat(versions("session", "id", id)).containsExactly(0L);
		assertThat(this.events.stream(PatientRecordChanged.class)).hasSize(1);
	}

	@Test
	void refusesACorrectionOfAnOlderVersion() {
		var id = recorded();
		correct(id, details(List.of(), List.of()));
		assertThatExceptionOfType(StaleVersion.class)
			.isThrownBy(() -> this.recordSession.correct(id, 0L, original(), "misread"));
	}

	private SessionId recorded() {
		var id = this.recordSession.in(this.series, original());
		this.entities.clear();
		this.clock.advance(Duration.ofHours(1));
		return id;
	}

	private void correct(SessionId id, SessionDetails details) {
		this.recordSession.correct(id, this.recordSession.versionOf(id).orElseThrow(), details, "misread");
		this.entities.clear();
	}

	private List<Long> versions(String table, String column, SessionId id) {
		return this.database.sql("select version from %s where %s = ? order by number".formatted(table, column))
			.param(id.value())
			.query(Long.class)
			.list();
	}

	private SessionDetails original() {
		return details(List.of(vial(1, "0.40"), vial(2, null)),
				List.of(placed(1, 1, "0.220"), placed(2, 2, null), placed(3, null, "1")));
	}

	private SessionDetails details(List<Prepared> preparations, List<Injected> injections) {
		return new SessionDetails(
				1, LocalDate.parse("2026-11-20"), this.given.practitioner(), new Circumstances(new BigDecimal("61.3"),
						Combination.RF_AFTER, new BigDecimal("1.5"), 40, false, true, 3, null),
				preparations, injections);
	}

	private static Prepared vial(int number, @Nullable String discarded) {
		return new Prepared(number,
				new Reconstitution("biostimulator A", "L1", LocalDate.parse("2027-01-31"), new BigDecimal("150"),
						new BigDecimal("5"), new BigDecimal("4.0"), new BigDecimal("0"), new BigDecimal("2"),
						new BigDecimal("0.5"), (discarded != null) ? new BigDecimal(discarded) : null),
				new Handling(null, null, null, null, null, null, null, "a syringe was dropped"));
	}

	private Injected placed(int number, @Nullable Integer preparation, @Nullable String volume) {
		return new Injected(number, preparation,
				new Placement(Region.CHEEK_MEDIAL_LEFT, this.scar, Target.SCAR, Layer.MID_DERMIS, 2,
						(volume != null) ? new BigDecimal(volume) : null, 30, new BigDecimal("4"), true, false, null,
						null, true, 2));
	}

}
