package org.seriatim.treatment.domain;

import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

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

	@Autowired
	TestClock clock;

	TestTreatment given;

	SeriesSummary series;

	@BeforeEach
	void anOpenSeries() {
		this.given = new TestTreatment(this.database);
		this.series = this.history.series(this.given.series(this.given.patient("T-1"))).orElseThrow();
		this.given.screened(this.series.patient(), "2026-11-20");
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
	void savesOneDraftForOnePageHoweverOftenItIsToldToBegin() {
		var page = UUID.randomUUID();
		var first = this.drafts.save(this.series, page, "{\"weightKg\": \"6\"}");
		// the answer was lost, so the page begins once more
		var again = this.drafts.save(this.series, page, "{\"weightKg\": \"61\"}");
		assertThat(again.id()).isEqualTo(first.id());
		assertThat(this.drafts.open()).extracting(SessionDraft::content).containsExactly("{\"weightKg\": \"61\"}");
	}

	@Test
	void takesWhatItsOwnPageSavedForNoChangeOfSomebodyElse() {
		var page = UUID.randomUUID();
		var draft = this.drafts.save(this.series, page, "{\"weightKg\": \"6\"}");
		this.drafts.save(draft.id(), draft.version(), page, "{\"weightKg\": \"61\"}");
		var late = this.drafts.save(draft.id(), draft.version(), page, "{\"weightKg\": \"62\"}");
		assertThat(late.content()).isEqualTo("{\"weightKg\": \"62\"}");
		assertThatExceptionOfType(StaleVersion.class)
			.isThrownBy(() -> this.drafts.save(draft.id(), draft.version(), UUID.randomUUID(), "{}"));
		this.recordSession.fromDraft(draft.id(), draft.version(), page, details());
		assertThatExceptionOfType(DraftSettled.class).isThrownBy(
				() -> this.drafts.save(draft.id(), this.drafts.byId(draft.id()).orElseThrow().version(), page, "{}"));
	}

	@Test
	void writesNothingWhenAPageSavesTheSame() {
		var page = UUID.randomUUID();
		var draft = this.drafts.save(this.series, page, "{\"weightKg\": \"61\"}");
		assertThat(this.drafts.save(draft.id(), draft.version(), page, "{\"weightKg\": \"61\"}").version())
			.isEqualTo(draft.version());
	}

	@Test
	void keepsTheStateAtTheEndOfEveryTenMinutesOfWhatAPageSaves() {
		var page = UUID.randomUUID();
		var draft = this.drafts.save(this.series, page, "{\"weightKg\": \"6\"}");
		var version = this.drafts.save(draft.id(), draft.version(), page, "{\"weightKg\": \"61\"}").version();
		this.clock.advance(Duration.ofMinutes(10));
		this.drafts.save(draft.id(), version, page, "{\"weightKg\": \"62\"}");
		assertThat(this.database.sql("""
				select content -> 'content' ->> 'weightKg' from previous_version
				where table_name = 'session_draft' and entry_id = ? and content ->> 'saved_by_page' is not null""")
			.param(draft.id().value())
			.query(String.class)
			.list()).containsExactly("61");
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
