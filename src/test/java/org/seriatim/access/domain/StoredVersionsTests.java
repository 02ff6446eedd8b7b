package org.seriatim.access.domain;

import java.util.UUID;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.EntryVersion;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

import static org.assertj.core.api.Assertions.assertThat;

@DatabaseTest
@SignedInAs(Role.PRACTITIONER)
class StoredVersionsTests {

	private final EarlierVersions history;

	private final StaffDirectory staff;

	private final JdbcClient database;

	private UUID patient = new UUID(0, 0);

	@Autowired
	StoredVersionsTests(EarlierVersions history, StaffDirectory staff, JdbcClient database) {
		this.history = history;
		this.staff = staff;
		this.database = database;
	}

	@BeforeEach
	void registerPatient() {
		this.patient = this.database.sql("insert into patient (record_number, phone) values ('K1', '1') returning id")
			.query(UUID.class)
			.single();
	}

	@Test
	void holdsAFirstVersionThatNobodyCorrected() {
		var entry = this.history.whole("patient", this.patient).orElseThrow();
		assertThat(entry.versions()).hasSize(1);
		assertThat(entry.latest().content()).containsEntry("phone", "1").doesNotContainKey("email");
		assertThat(entry.latest().recorded().recordedBy()).isNull();
		assertThat(entry.removed()).isFalse();
	}

	@Test
	void holdsAllVersionsTheLatestFirstWithWhoAndWhy() {
		var me = this.staff.all().get(0).id();
		for (int version = 1; version <= 2; version++) {
			this.database
				.sql("""
						update patient set phone = :phone, version = :version, recorded_by = :me, correction_reason = 'moved'
						where id = :id""")
				.param("phone", "1" + version)
				.param("version", version)
				.param("me", me.value())
				.param("id", this.patient)
				.update();
		}
		var entry = this.history.whole("patient", this.patient).orElseThrow();
		assertThat(entry.versions()).extracting(EntryVersion::number).containsExactly(2L, 1L, 0L);
		assertThat(entry.versions()).extracting((version) -> version.content().get("phone"))
			.containsExactly("12", "11", "1");
		assertThat(entry.latest().recorded().recordedBy()).isEqualTo(me);
		assertThat(entry.latest().recorded().correctionReason()).isEqualTo("moved");
		assertThat(entry.versions().get(2).recorded().correctionReason()).isNull();
	}

	@ParameterizedTest
	@ValueSource(strings = { "account", "staff", "api_token", "audit_entry", "previous_version", "spring_session",
			"pg_class", "patient; drop table staff", "patient\"", "PATIENT", "", "public.patient" })
	void readsOnlyWhatKeepsVersions(String kind) {
		assertThat(this.history.whole(kind, this.patient)).isEmpty();
		assertThat(this.staff.all()).isNotEmpty();
	}

	@Test
	void knowsNoEntryThatIsNotThere() {
		assertThat(this.history.whole("patient", UUID.randomUUID())).isEmpty();
	}

}
