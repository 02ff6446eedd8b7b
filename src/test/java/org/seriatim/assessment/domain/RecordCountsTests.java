package org.seriatim.assessment.domain;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;

import jakarta.persistence.EntityManager;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.assessment.AssessedPatients;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Ecca;
import org.seriatim.assessment.FaceCount;
import org.seriatim.assessment.FaceCounts;
import org.seriatim.assessment.Region;
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

@DatabaseTest
@SignedInAs(Role.PRACTITIONER)
@RecordApplicationEvents
class RecordCountsTests {

	private static final LocalDate DAY = LocalDate.of(2026, 11, 20);

	private static final CountCell CHIN = new CountCell(Region.CHIN, CountedType.BOXCAR);

	private static final CountCell NOSE = new CountCell(Region.NOSE, CountedType.ELASTOLYSIS);

	private final RecordCounts record;

	private final FaceCounts counts;

	private final CurrentStaff staff;

	private final JdbcClient database;

	private final EntityManager entities;

	private PatientId patient = PatientId.next();

	@Autowired
	RecordCountsTests(RecordCounts record, FaceCounts counts, CurrentStaff staff, JdbcClient database,
			EntityManager entities) {
		this.record = record;
		this.counts = counts;
		this.staff = staff;
		this.database = database;
		this.entities = entities;
	}

	@BeforeEach
	void registerPatient() {
		this.patient = new AssessedPatients(this.database).patient("K1");
	}

	@Test
	void keepsZeroApartFromNotCounted(ApplicationEvents events) {
		record(Map.of(CHIN, 3, NOSE, 0));
		assertThat(this.counts.of(this.patient)).singleElement().satisfies((count) -> {
			assertThat(count.assessedOn()).isEqualTo(DAY);
			assertThat(count.count(Region.CHIN, CountedType.BOXCAR)).contains(3);
			assertThat(count.count(Region.NOSE, CountedType.ELASTOLYSIS)).contains(0);
			assertThat(count.count(Region.NOSE, CountedType.BOXCAR)).isEmpty();
			assertThat(count.ecca()).isEmpty();
		});
		assertThat(events.stream(PatientRecordChanged.class)).hasSize(1);
	}

	@Test
	void hasAScoreOnceTheCountIsComplete() {
		var cells = new HashMap<CountCell, Integer>();
		FaceCount.faceRegions()
			.forEach((region) -> FaceCount.scoredTypes().forEach((type) -> cells.put(new CountCell(region, type), 0)));
		cells.put(CHIN, 3);
		cells.put(new CountCell(Region.FOREHEAD, CountedType.ICE_PICK), 12);
		record(cells);
		assertThat(this.counts.of(this.patient).get(0).ecca()).map(Ecca::total).contains(50);
	}

	@Test
	void refusesASecondCountOfOneCell() {
		record(Map.of(CHIN, 3));
		assertThatExceptionOfType(AlreadyAssessed.class).isThrownBy(() -> record(Map.of(CHIN, 4, NOSE, 0)))
			.satisfies((twice) -> assertThat(twice.what()).isEqualTo(Set.of(CHIN)));
		record(Map.of(NOSE, 1));
		assertThat(counted().cells()).isEqualTo(Map.of(CHIN, 3, NOSE, 1));
	}

	@Test
	void correctsWhatIsDifferentAddsWhatIsNewAndKeepsTheOldVersion() {
		record(Map.of(CHIN, 3));
		correct(1L, DAY, Map.of(CHIN, 4, NOSE, 2));
		assertThat(counted().cells()).isEqualTo(Map.of(CHIN, 4, NOSE, 2));
		assertThat(counted().version()).isEqualTo(3);
		assertThat(this.database.sql("select content ->> 'count' from previous_version where table_name = 'scar_count'")
			.query(String.class)
			.list()).containsExactly("3");
	}

	@Test
	void movesToAnotherDayThatIsFree() {
		record(Map.of(CHIN, 3));
		correct(1L, DAY.minusDays(1), Map.of(CHIN, 3));
		assertThat(this.counts.of(this.patient)).extracting(FaceCount::assessedOn).containsExactly(DAY.minusDays(1));
		record(Map.of(CHIN, 5));
		assertThatExceptionOfType(AlreadyAssessed.class)
			.isThrownBy(() -> correct(1L, DAY.minusDays(1), Map.of(CHIN, 5)));
	}

	@Test
	void refusesACorrectionOfAnOlderVersion() {
		record(Map.of(CHIN, 3));
		correct(1L, DAY, Map.of(CHIN, 4));
		assertThatExceptionOfType(StaleVersion.class).isThrownBy(() -> correct(1L, DAY, Map.of(CHIN, 5)));
	}

	private void record(Map<CountCell, Integer> cells) {
		this.record.of(this.patient, day(), cells);
		this.entities.clear();
	}

	private void correct(Long shown, LocalDate countedOn, Map<CountCell, Integer> cells) {
		this.record.correct(this.patient, day(), shown, countedOn, cells, "counted again");
		this.entities.clear();
	}

	private RecordCounts.Counted counted() {
		return this.record.counted(this.patient, day()).orElseThrow();
	}

	private AssessmentDay day() {
		return new AssessmentDay(DAY, this.staff.id().orElseThrow());
	}

}
