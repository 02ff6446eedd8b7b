package org.seriatim.patient.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;

import jakarta.persistence.EntityManager;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.patient.Sebum;
import org.seriatim.patient.Sex;
import org.seriatim.patient.SkinThickness;
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
class KeepPatientTests {

	private static final Identity INES = new Identity("K1", "Håkonsen", "Ines", LocalDate.of(1997, 12, 23), Sex.FEMALE);

	private static final ContactDetails CONTACT = new ContactDetails("+00 555 1189", "p1@example.org");

	private static final SkinProfile SKIN = new SkinProfile(3, SkinThickness.THIN, Sebum.OILY);

	private final KeepPatient keep;

	private final PatientDirectory directory;

	private final JdbcClient database;

	private final EntityManager entities;

	@Autowired
	KeepPatientTests(KeepPatient keep, PatientDirectory directory, JdbcClient database, EntityManager entities) {
		this.keep = keep;
		this.directory = directory;
		this.database = database;
		this.entities = entities;
	}

	@Test
	void keepsEverythingThatWasEntered() {
		var id = this.keep.register(new PatientDetails(INES, CONTACT, SKIN));
		this.entities.clear();
		var patient = this.keep.byId(id).orElseThrow();
		assertThat(patient.identity()).isEqualTo(INES);
		assertThat(patient.contact()).isEqualTo(CONTACT);
		assertThat(patient.skin()).isEqualTo(SKIN);
		var summary = this.directory.byId(id).orElseThrow();
		assertThat(summary.displayName()).isEqualTo("Håkonsen, Ines");
		assertThat(summary.phototype()).isEqualTo(3);
		assertThat(summary.skinThickness()).isEqualTo(SkinThickness.THIN);
		assertThat(summary.sebum()).isEqualTo(Sebum.OILY);
		assertThat(summary.sex()).isEqualTo(Sex.FEMALE);
		assertThat(summary.email()).isEqualTo("p1@example.org");
	}

	@Test
	void keepsWhatIsUnknownUnknown() {
		var id = this.keep.register(
				new PatientDetails(new Identity("K2", null, null, null, null), new ContactDetails(null, null), null));
		this.entities.clear();
		var patient = this.keep.byId(id).orElseThrow();
		assertThat(patient.contact()).isEqualTo(new ContactDetails(null, null));
		assertThat(patient.skin()).isEqualTo(new SkinProfile(null, null, null));
		assertThat(this.directory.byId(id).orElseThrow().displayName()).isEqualTo("K2");
	}

	@Test
	void keepsTheOldVersionReadableWithWhoAndWhy() {
		var id = this.keep.register(new PatientDetails(INES, CONTACT, SKIN));
		correct(id, 0L, new PatientDetails(INES, new ContactDetails("+00 555 2711", null), SKIN), "a new telephone");
		assertThat(this.directory.byId(id).orElseThrow().phone()).isEqualTo("+00 555 2711");
		assertThat(this.database.sql("""
				select content ->> 'phone' from previous_version
				where table_name = 'patient' and entry_id = :id and version = 0""")
			.param("id", id.value())
			.query(String.class)
			.list()).containsExactly("+00 555 1189");
		assertThat(this.database.sql("""
				select correction_reason, name from patient join staff on staff.id = recorded_by
				where patient.id = :id""").param("id", id.value()).query().listOfRows())
			.containsExactly(Map.of("correction_reason", "a new telephone", "name", "practitioner"));
	}

	@Test
	void makesNoVersionOfACorrectionThatChangesNothing() {
		var id = this.keep.register(new PatientDetails(INES, CONTACT, SKIN));
		correct(id, 0L, new PatientDetails(INES, CONTACT, null), "looked through");
		assertThat(this.keep.byId(id).orElseThrow().version()).isZero();
		assertThat(actions(id)).containsExactly("created");
	}

	@Test
	void leavesTheSkinProfileAloneWhenTheFormDoesNotSpeakOfIt() {
		var id = this.keep.register(new PatientDetails(INES, CONTACT, SKIN));
		correct(id, 0L, new PatientDetails(INES, new ContactDetails(null, null), null), "moved away");
		assertThat(this.keep.byId(id).orElseThrow().skin()).isEqualTo(SKIN);
	}

	@Test
	void refusesARecordNumberThatIsOrWasAnotherPatients() {
		var id = this.keep.register(new PatientDetails(INES, CONTACT, SKIN));
		assertThatExceptionOfType(RecordNumberGiven.class)
			.isThrownBy(() -> this.keep.register(new PatientDetails(INES, CONTACT, SKIN)));
		var renumbered = new Identity("K9", INES.familyName(), INES.givenName(), INES.birthDate(), INES.sex());
		correct(id, 0L, new PatientDetails(renumbered, CONTACT, SKIN), "wrong number");
		assertThatExceptionOfType(RecordNumberGiven.class)
			.isThrownBy(() -> this.keep.register(new PatientDetails(INES, CONTACT, SKIN)));
		correct(id, 1L, new PatientDetails(INES, CONTACT, SKIN), "it was right before");
		assertThat(this.directory.byRecordNumber("K1")).isPresent();
	}

	@Test
	void refusesACorrectionOfAnOlderVersion() {
		var id = this.keep.register(new PatientDetails(INES, CONTACT, SKIN));
		correct(id, 0L, new PatientDetails(INES, new ContactDetails(null, null), null), "moved away");
		assertThatExceptionOfType(StaleVersion.class)
			.isThrownBy(() -> correct(id, 0L, new PatientDetails(INES, CONTACT, null), "late"));
	}

	@Test
	void tellsTheAuditLogAndThoseWhoListen(ApplicationEvents events) {
		var id = this.keep.register(new PatientDetails(INES, CONTACT, SKIN));
		correct(id, 0L, new PatientDetails(INES, new ContactDetails(null, null), null), "moved away");
		this.directory.open(id);
		assertThat(actions(id)).containsExactly("created", "corrected", "opened");
		assertThat(events.stream(PatientRecordChanged.class)).containsExactly(new PatientRecordChanged(id),
				new PatientRecordChanged(id));
	}

	private void correct(PatientId id, Long shown, PatientDetails details, String reason) {
		this.keep.correct(id, shown, details, reason);
		this.entities.clear();
	}

	private List<String> actions(PatientId id) {
		return this.database.sql("select action from audit_entry where patient_id = :id order by id")
			.param("id", id.value())
			.query(String.class)
			.list();
	}

}
