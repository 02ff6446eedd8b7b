package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Map;
import java.util.Set;

import jakarta.persistence.EntityManager;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.AssessedPatients;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.GlobalScale;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.patient.NoSuchPatient;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.context.event.ApplicationEvents;
import org.springframework.test.context.event.RecordApplicationEvents;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

@DatabaseTest
@SignedInAs(Role.PRACTITIONER)
@RecordApplicationEvents
class RecordAssessmentTests {

	private static final LocalDate DAY = LocalDate.of(2026, 11, 20);

	private static final ScaleItem GRADE = item(GlobalScale.GOODMAN_BARON_QUALITATIVE, "grade");

	private static final ScaleItem PATIENT_GAIS = item(GlobalScale.GAIS, "patient");

	private final RecordAssessment record;

	private final EarlierAssessments earlier;

	private final CurrentStaff staff;

	private final JdbcClient database;

	private final EntityManager entities;

	private PatientId patient = PatientId.next();

	private ScarId boxcar = ScarId.next();

	private ScarId keloid = ScarId.next();

	@Autowired
	RecordAssessmentTests(RecordAssessment record, EarlierAssessments earlier, CurrentStaff staff, JdbcClient database,
			EntityManager entities) {
		this.record = record;
		this.earlier = earlier;
		this.staff = staff;
		this.database = database;
		this.entities = entities;
	}

	@BeforeEach
	void registerPatient() {
		var patients = new AssessedPatients(this.database);
		this.patient = patients.patient("K1");
		this.boxcar = patients.scar(this.patient, "CML1", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR);
		this.keloid = patients.scar(this.patient, "JL1", Region.JAWLINE_LEFT, ScarType.KELOID);
	}

	@Test
	void storesEverythingThatWasEnteredAndNothingElse(ApplicationEvents events) {
		record(day(), false,
				new VisitEntry(Map.of(this.boxcar, depth("0.27"), this.keloid, ScarMeasurement.NOTHING),
						Map.of(Region.NOSE, new PoreFinding(3, null), Region.CHIN, PoreFinding.NOTHING),
						Map.of(GRADE, new BigDecimal("2"), PATIENT_GAIS, new BigDecimal("-1"))));
		var entered = entered(false);
		assertThat(entered.entry().scars()).containsOnlyKeys(this.boxcar);
		var measured = entered.entry().scars().get(this.boxcar);
		assertThat(measured.depthMm()).isEqualByComparingTo("0.27");
		assertThat(measured.depthClass()).isEqualTo(DepthClass.SHALLOW);
		assertThat(entered.entry().pores()).containsOnlyKeys(Region.NOSE);
		assertThat(entered.entry().scales()).containsOnlyKeys(GRADE, PATIENT_GAIS);
		assertThat(entered.version()).isEqualTo(4);
		assertThat(events.stream(PatientRecordChanged.class)).containsExactly(new PatientRecordChanged(this.patient));
		assertThat(this.database.sql("select kind from audit_entry where action = 'created' order by kind")
			.query(String.class)
			.list()).containsExactly("global_assessment", "global_assessment", "pore_assessment", "scar_assessment");
	}

	@Test
	void storesNothingWhenOneEntryIsRefused() {
		assertThatIllegalArgumentException().isThrownBy(() -> record(day(), false,
				new VisitEntry(Map.of(this.boxcar, depth("0.27"), this.keloid, depth("0.4")), Map.of(), Map.of())));
		this.entities.clear();
		assertThat(this.record.entered(this.patient, day(), false)).isEmpty();
	}

	@Test
	void refusesAScarOfSomebodyElseAndAnUnknownPatient() {
		var entry = new VisitEntry(Map.of(ScarId.next(), depth("0.27")), Map.of(), Map.of());
		assertThatIllegalArgumentException().isThrownBy(() -> record(day(), false, entry));
		assertThatExceptionOfType(NoSuchPatient.class)
			.isThrownBy(() -> this.record.of(PatientId.next(), day(), false, entry));
	}

	@Test
	void refusesASecondEntryOfOneDayAndNamesWhatWasEntered() {
		var entry = new VisitEntry(Map.of(this.boxcar, depth("0.27")), Map.of(Region.NOSE, new PoreFinding(3, null)),
				Map.of(GRADE, new BigDecimal("2")));
		record(day(), false, entry);
		assertThatExceptionOfType(AlreadyAssessed.class).isThrownBy(() -> record(day(), false, entry))
			.satisfies((twice) -> assertThat(twice.what()).isEqualTo(Set.of(this.boxcar, Region.NOSE, GRADE)));
		var other = new VisitEntry(Map.of(this.keloid, severity(2)), Map.of(), Map.of());
		record(day(), false, other);
		assertThat(entered(false).entry().scars()).containsOnlyKeys(this.boxcar, this.keloid);
	}

	@Test
	void takesABlindedRepeatOnlyAfterAFirstRatingOfTheDay() {
		var repeat = new VisitEntry(Map.of(this.boxcar, depth("0.30")), Map.of(), Map.of());
		assertThatExceptionOfType(NoFirstRating.class).isThrownBy(() -> record(day(), true, repeat))
			.satisfies((without) -> assertThat(without.scars()).containsExactly(this.boxcar));
		record(day(), false, new VisitEntry(Map.of(this.boxcar, depth("0.27")), Map.of(), Map.of()));
		record(day(), true, repeat);
		assertThat(entered(true).entry().scars().get(this.boxcar).depthMm()).isEqualByComparingTo("0.30");
		assertThat(entered(false).entry().scars().get(this.boxcar).depthMm()).isEqualByComparingTo("0.27");
	}

	@Test
	void correctsOnlyWhatIsDifferentAndAddsWhatIsNew() {
		record(day(), false, new VisitEntry(Map.of(this.boxcar, depth("0.27")),
				Map.of(Region.NOSE, new PoreFinding(3, null)), Map.of(GRADE, new BigDecimal("2"))));
		correct(false, 3L, DAY, new VisitEntry(Map.of(this.boxcar, depth("0.270"), this.keloid, severity(1)),
				Map.of(Region.NOSE, new PoreFinding(2, new BigDecimal("40"))), Map.of(GRADE, new BigDecimal("2.0"))));
		assertThat(versions("scar_assessment", this.boxcar)).isZero();
		assertThat(this.database.sql("select grade || ' ' || version || ' ' || correction_reason from pore_assessment")
			.query(String.class)
			.list()).containsExactly("2 1 looked again");
		assertThat(this.database
			.sql("select content ->> 'grade' from previous_version where table_name = 'pore_assessment'")
			.query(String.class)
			.list()).containsExactly("3");
		assertThat(entered(false).entry().scars()).containsOnlyKeys(this.boxcar, this.keloid);
		assertThat(entered(false).version()).isEqualTo(5);
	}

	@Test
	void movesADayWithItsBlindedRepeats() {
		record(day(), false, new VisitEntry(Map.of(this.boxcar, depth("0.27")), Map.of(), Map.of()));
		record(day(), true, new VisitEntry(Map.of(this.boxcar, depth("0.30")), Map.of(), Map.of()));
		this.database.sql("""
				insert into global_assessment (patient_id, assessed_on, assessor_id, scale, item, value)
				values (:patient, :day, :me, 'own-scale', 'total', 7)""")
			.param("patient", this.patient.value())
			.param("day", DAY)
			.param("me", me().value())
			.update();
		correct(false, 2L, DAY.minusDays(1), new VisitEntry(Map.of(this.boxcar, depth("0.27")), Map.of(), Map.of()));
		assertThat(this.record.entered(this.patient, day(), false)).isEmpty();
		assertThat(this.record.entered(this.patient, day(), true)).isEmpty();
		var moved = new AssessmentDay(DAY.minusDays(1), me());
		assertThat(this.record.entered(this.patient, moved, false)).isPresent();
		assertThat(this.record.entered(this.patient, moved, true)).isPresent();
		assertThat(
				this.database.sql("select distinct assessed_on from global_assessment").query(LocalDate.class).list())
			.containsExactly(DAY.minusDays(1));
	}

	@Test
	void doesNotMoveADayOntoAnother() {
		var entry = new VisitEntry(Map.of(this.boxcar, depth("0.27")), Map.of(), Map.of());
		record(new AssessmentDay(DAY.minusDays(1), me()), false, entry);
		record(day(), false, entry);
		assertThatExceptionOfType(AlreadyAssessed.class).isThrownBy(() -> correct(false, 1L, DAY.minusDays(1), entry));
	}

	@Test
	void refusesACorrectionOfAnOlderVersion() {
		record(day(), false, new VisitEntry(Map.of(this.boxcar, depth("0.27")), Map.of(), Map.of()));
		correct(false, 1L, DAY, new VisitEntry(Map.of(this.boxcar, depth("0.28")), Map.of(), Map.of()));
		assertThatExceptionOfType(StaleVersion.class).isThrownBy(
				() -> correct(false, 1L, DAY, new VisitEntry(Map.of(this.boxcar, depth("0.29")), Map.of(), Map.of())));
		record(day(), false, new VisitEntry(Map.of(this.keloid, severity(1)), Map.of(), Map.of()));
		assertThatExceptionOfType(StaleVersion.class).isThrownBy(
				() -> correct(false, 2L, DAY, new VisitEntry(Map.of(this.boxcar, depth("0.29")), Map.of(), Map.of())));
	}

	@Test
	void showsOfEachValueTheLastOneBeforeTheDay() {
		record(new AssessmentDay(DAY.minusDays(60), me()), false, new VisitEntry(Map.of(this.boxcar, depth("0.40")),
				Map.of(Region.NOSE, new PoreFinding(3, null)), Map.of(GRADE, new BigDecimal("3"))));
		record(new AssessmentDay(DAY.minusDays(10), me()), false,
				new VisitEntry(Map.of(this.boxcar, severity(2)), Map.of(), Map.of()));
		record(day(), false, new VisitEntry(Map.of(this.boxcar, depth("0.20")), Map.of(), Map.of()));
		var known = this.earlier.scarsBefore(this.patient, DAY).get(this.boxcar);
		assertThat(known.lastOn()).isEqualTo(DAY.minusDays(10));
		assertThat(known.severity()).isEqualTo(new Dated<>(2, DAY.minusDays(10)));
		assertThat(known.depthMm().value()).isEqualByComparingTo("0.40");
		assertThat(known.depthMm().day()).isEqualTo(DAY.minusDays(60));
		assertThat(this.earlier.poresBefore(this.patient, DAY).get(Region.NOSE).grade())
			.isEqualTo(new Dated<>(3, DAY.minusDays(60)));
		assertThat(this.earlier.scalesBefore(this.patient, DAY).get(GRADE).value()).isEqualByComparingTo("3");
		assertThat(this.earlier.scarsBefore(this.patient, DAY.minusDays(60))).isEmpty();
		assertThat(this.earlier.methodBefore(this.patient, DAY)).contains(DepthMethod.GAUGE);
		assertThat(this.earlier.methodBefore(this.patient, DAY.minusDays(60))).isEmpty();
	}

	private void record(AssessmentDay day, boolean repeat, VisitEntry entry) {
		this.record.of(this.patient, day, repeat, entry);
		this.entities.clear();
	}

	private void correct(boolean repeat, Long shown, LocalDate assessedOn, VisitEntry entry) {
		this.record.correct(this.patient, day(), repeat, shown, assessedOn, entry, "looked again");
		this.entities.clear();
	}

	private EnteredVisit entered(boolean repeat) {
		return this.record.entered(this.patient, day(), repeat).orElseThrow();
	}

	private AssessmentDay day() {
		return new AssessmentDay(DAY, me());
	}

	private StaffId me() {
		return this.staff.id().orElseThrow();
	}

	private long versions(String table, ScarId scar) {
		return this.database.sql("select version from " + table + " where scar_id = :scar")
			.param("scar", scar.value())
			.query(Long.class)
			.single();
	}

	private static ScarMeasurement depth(String mm) {
		return new ScarMeasurement(null, null, new BigDecimal(mm), DepthMethod.GAUGE, null, null, null);
	}

	private static ScarMeasurement severity(int grade) {
		return new ScarMeasurement(null, null, null, null, null, grade, null);
	}

	private static ScaleItem item(GlobalScale scale, String word) {
		return new ScaleItem(scale, scale.item(word).orElseThrow());
	}

}
