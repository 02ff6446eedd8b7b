package org.seriatim.treatment.domain;

import java.time.LocalDate;
import java.util.List;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.TestTreatment;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.context.event.ApplicationEvents;
import org.springframework.test.context.event.RecordApplicationEvents;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

@DatabaseTest
@SignedInAs(Role.ASSISTANT)
@RecordApplicationEvents
class SessionDraftsTests {

	@Autowired
	SessionDrafts drafts;

	@Autowired
	RecordSession recordSession;

	@Autowired
	TreatmentHistory history;

	@Autowired
	JdbcClient database;

	@Autowired
	ApplicationEvents events;

	TestTreatment given;

	SeriesSummary series;

	@BeforeEach
	void anOpenSeries() {
		this.given = new TestTreatment(this.database);
		this.series = this.history.series(this.given.series(this.given.patient("T-1"))).orElseThrow();
	}

	@Test
	void keepsWhatWasTypedWithAuthorAndTime() {
		var id = this.drafts.write(this.series, "{\"weightKg\": \"6l\"}");
		assertThat(this.drafts.byId(id)).hasValueSatisfying((draft) -> {
			assertThat(draft.content()).isEqualTo("{\"weightKg\": \"6l\"}");
			assertThat(draft.writtenAt()).isEqualTo(TestClock.START);
			assertThat(draft.series()).isEqualTo(this.series.id());
			assertThat(draft.patient()).isEqualTo(this.series.patient());
			assertThat(draft.open()).isTrue();
		});
		assertThat(this.drafts.open()).extracting(SessionDraft::id).containsExactly(id);
		assertThat(this.drafts.openOf(this.series.id())).extracting(SessionDraft::id).containsExactly(id);
	}

	@Test
	void isNoClinicalEntry() {
		this.drafts.write(this.series, "{}");
		assertThat(this.history.sessionsOf(this.series.patient())).isEmpty();
		assertThat(this.events.stream(PatientRecordChanged.class)).isEmpty();
	}

	@Test
	void isSettledByTheSessionThatItBecomes() {
		var id = this.drafts.write(this.series, "{}");
		var session = this.recordSession.fromDraft(id, 0L, details());
		assertThat(this.drafts.open()).isEmpty();
		assertThat(this.drafts.byId(id)).hasValueSatisfying((draft) -> assertThat(draft.open()).isFalse());
		assertThat(this.history.session(session)).isPresent();
		assertThatExceptionOfType(DraftSettled.class).isThrownBy(() -> this.drafts.discard(id, 1L));
	}

	@Test
	void staysOnRecordWhenItIsDiscarded() {
		var id = this.drafts.write(this.series, "{}");
		this.drafts.discard(id, 0L);
		assertThat(this.drafts.open()).isEmpty();
		assertThat(this.drafts.byId(id)).isPresent();
	}

	@Test
	void keepsWhatWasTypedBefore() {
		var id = this.drafts.write(this.series, "{\"weightKg\": \"61\"}");
		this.drafts.rewrite(id, 0L, "{\"weightKg\": \"62\"}");
		assertThat(this.database.sql("""
				select content -> 'content' ->> 'weightKg' from previous_version
				where table_name = 'session_draft' and entry_id = ?""").param(id.value()).query(String.class).list())
			.containsExactly("61");
	}

	@Test
	void refusesAFormThatShowsAnOlderDraft() {
		var id = this.drafts.write(this.series, "{}");
		this.drafts.rewrite(id, 0L, "{\"number\": \"1\"}");
		assertThatExceptionOfType(StaleVersion.class).isThrownBy(() -> this.drafts.rewrite(id, 0L, "{}"));
		assertThatExceptionOfType(StaleVersion.class).isThrownBy(() -> this.recordSession.fromDraft(id, 0L, details()));
	}

	private SessionDetails details() {
		return new SessionDetails(1, LocalDate.parse("2026-11-20"), this.given.practitioner(), Circumstances.UNKNOWN,
				List.of(), List.of());
	}

}
