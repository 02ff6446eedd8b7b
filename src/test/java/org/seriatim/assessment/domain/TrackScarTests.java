package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import jakarta.persistence.EntityManager;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.assessment.AssessedPatients;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
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
class TrackScarTests {

	private static final LocalDate DAY = LocalDate.of(2026, 11, 20);

	private static final MapPosition POSITION = new MapPosition(new BigDecimal("0.6533"), new BigDecimal("0.5382"));

	private final TrackScar track;

	private final TrackedScars scars;

	private final JdbcClient database;

	private final EntityManager entities;

	private PatientId patient = PatientId.next();

	@Autowired
	TrackScarTests(TrackScar track, TrackedScars scars, JdbcClient database, EntityManager entities) {
		this.track = track;
		this.scars = scars;
		this.database = database;
		this.entities = entities;
	}

	@BeforeEach
	void registerPatient() {
		this.patient = new AssessedPatients(this.database).patient("K1");
	}

	@Test
	void keepsEverythingThatWasEntered() {
		this.track.of(this.patient, details("CML1", ScarType.BOXCAR, POSITION));
		this.entities.clear();
		var scar = only();
		assertThat(scar).isEqualTo(new TrackedScar(scar.id(), "CML1", Region.CHEEK_MEDIAL_LEFT, ScarType.BOXCAR,
				POSITION.x(), POSITION.y(), DAY));
		assertThat(this.track.byId(scar.id()).orElseThrow().position()).isEqualTo(POSITION);
	}

	@Test
	void keepsAScarWithoutAPosition() {
		this.track.of(this.patient, details("CML1", ScarType.BOXCAR, null));
		this.entities.clear();
		assertThat(only().isOnMap()).isFalse();
		assertThat(this.track.byId(only().id()).orElseThrow().position()).isNull();
	}

	@Test
	void proposesTheNextFreeLabel() {
		assertThat(this.track.of(this.patient, details(null, ScarType.BOXCAR, null))).isEqualTo("CML1");
		assertThat(this.track.of(this.patient, details(null, ScarType.BOXCAR, null))).isEqualTo("CML2");
	}

	@Test
	void listsLabelsByTheirNumber() {
		for (String label : new String[] { "A10", "B1", "A2", "A", "A1" }) {
			this.track.of(this.patient, details(label, ScarType.BOXCAR, null));
		}
		assertThat(this.scars.of(this.patient)).extracting(TrackedScar::label)
			.containsExactly("A", "A1", "A2", "A10", "B1");
	}

	@Test
	void refusesALabelThatAnotherScarHas() {
		this.track.of(this.patient, details("CML1", ScarType.BOXCAR, null));
		assertThatExceptionOfType(LabelTaken.class)
			.isThrownBy(() -> this.track.of(this.patient, details("cml1", ScarType.ROLLING, null)));
		var other = new AssessedPatients(this.database).patient("K2");
		assertThat(this.track.of(other, details("CML1", ScarType.BOXCAR, null))).isEqualTo("CML1");
	}

	@Test
	void keepsTheOldVersionOfACorrection(ApplicationEvents events) {
		this.track.of(this.patient, details("CML1", ScarType.BOXCAR, POSITION));
		var id = only().id();
		correct(id, 0L, details("CML1", ScarType.ROLLING, POSITION));
		assertThat(only().type()).isEqualTo(ScarType.ROLLING);
		assertThat(this.database
			.sql("select content ->> 'type' from previous_version where table_name = 'scar' and entry_id = :id")
			.param("id", id.value())
			.query(String.class)
			.list()).containsExactly("boxcar");
		assertThat(this.database.sql("select action from audit_entry where entry_id = :id order by id")
			.param("id", id.value())
			.query(String.class)
			.list()).containsExactly("created", "corrected");
		assertThat(events.stream(PatientRecordChanged.class)).hasSize(2);
	}

	@Test
	void makesNoVersionOfWhatSaysTheSame() {
		this.track.of(this.patient, details("CML1", ScarType.BOXCAR, POSITION));
		correct(only().id(), 0L,
				details(null, ScarType.BOXCAR, new MapPosition(new BigDecimal("0.65330"), new BigDecimal("0.5382"))));
		assertThat(this.track.byId(only().id()).orElseThrow().version()).isZero();
	}

	@Test
	void refusesACorrectionOfAnOlderVersion() {
		this.track.of(this.patient, details("CML1", ScarType.BOXCAR, null));
		correct(only().id(), 0L, details("CML1", ScarType.ROLLING, null));
		assertThatExceptionOfType(StaleVersion.class)
			.isThrownBy(() -> correct(only().id(), 0L, details("CML1", ScarType.ICE_PICK, null)));
	}

	private void correct(ScarId id, Long shown, ScarDetails details) {
		this.track.correct(id, shown, details, "looked again");
		this.entities.clear();
	}

	private TrackedScar only() {
		var all = this.scars.of(this.patient);
		assertThat(all).hasSize(1);
		return all.get(0);
	}

	private static ScarDetails details(@Nullable String label, ScarType type, @Nullable MapPosition position) {
		return new ScarDetails(label, Region.CHEEK_MEDIAL_LEFT, type, position, DAY);
	}

}
