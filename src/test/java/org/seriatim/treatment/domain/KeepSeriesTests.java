package org.seriatim.treatment.domain;

import java.time.LocalDate;

import jakarta.persistence.EntityManager;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.EarlierVersions.ChangedValue;
import org.seriatim.access.Role;
import org.seriatim.patient.NoSuchPatient;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
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
@SignedInAs(Role.PRACTITIONER)
@RecordApplicationEvents
class KeepSeriesTests {

	private static final SeriesPlan PLAN = new SeriesPlan("scars and pores", 4);

	private static final SeriesEnd END = new SeriesEnd(SeriesStatus.COMPLETED, LocalDate.parse("2026-11-18"),
			"goal reached");

	@Autowired
	KeepSeries keepSeries;

	@Autowired
	TreatmentHistory history;

	@Autowired
	EarlierVersions earlierVersions;

	@Autowired
	EntityManager entities;

	@Autowired
	JdbcClient database;

	@Autowired
	ApplicationEvents events;

	TestTreatment given;

	PatientId patient;

	@BeforeEach
	void aPatient() {
		this.given = new TestTreatment(this.database);
		this.patient = this.given.patient("T-1");
	}

	@Test
	void opensASeriesUnderTheNewestProtocol() {
		var id = open();
		assertThat(this.history.series(id))
			.contains(new SeriesSummary(id, this.patient, 1, "scars and pores", 4, SeriesStatus.OPEN, null, null, 1));
		assertThat(this.history.openSeries()).extracting(SeriesSummary::id).containsExactly(id);
		assertThat(this.events.stream(PatientRecordChanged.class))
			.containsExactly(new PatientRecordChanged(this.patient));
	}

	@Test
	void refusesASecondOpenSeries() {
		var id = open();
		assertThatExceptionOfType(AnotherSeriesIsOpen.class).isThrownBy(this::open)
			.satisfies((refused) -> assertThat(refused.open()).isEqualTo(id));
	}

	@Test
	void opensAnotherOnceTheFirstHasEnded() {
		end(open(), END);
		var second = open();
		assertThat(this.history.series(second)).map(SeriesSummary::number).contains(2);
	}

	@Test
	void refusesASeriesOfNobody() {
		assertThatExceptionOfType(NoSuchPatient.class).isThrownBy(() -> this.keepSeries.open(PatientId.next(), PLAN));
	}

	@Test
	void keepsTheOldPlanReadable() {
		var id = open();
		this.keepSeries.replan(id, version(id), new SeriesPlan("scars", 5), "patient asked for more");
		this.entities.clear();
		assertThat(this.earlierVersions.of("series", id.value())).singleElement().satisfies((correction) -> {
			assertThat(correction.reason()).isEqualTo("patient asked for more");
			assertThat(correction.changes()).flatExtracting(EarlierVersions.Change::values)
				.containsExactlyInAnyOrder(new ChangedValue("goal", "scars and pores", "scars"),
						new ChangedValue("planned_sessions", "4", "5"));
		});
	}

	@Test
	void writesNothingWhenThePlanStaysTheSame() {
		var id = open();
		this.keepSeries.replan(id, version(id), PLAN, "no reason");
		assertThat(version(id)).isZero();
	}

	@Test
	void endsWithAReason() {
		var id = open();
		end(id, END);
		assertThat(this.history.series(id)).contains(new SeriesSummary(id, this.patient, 1, "scars and pores", 4,
				SeriesStatus.COMPLETED, LocalDate.parse("2026-11-18"), "goal reached", 1));
	}

	@Test
	void doesNotEndBeforeItsLastSession() {
		var id = open();
		this.given.session(id, 1, "2026-11-19");
		assertThatExceptionOfType(SeriesEndRefused.class).isThrownBy(() -> end(id, END)).satisfies((refused) -> {
			assertThat(refused.rule()).isEqualTo(SeriesEndRefused.Rule.BEFORE_LAST_SESSION);
			assertThat(refused.bound()).isEqualTo("2026-11-19");
		});
	}

	@Test
	void doesNotEndInTheFuture() {
		var id = open();
		assertThatExceptionOfType(SeriesEndRefused.class)
			.isThrownBy(() -> end(id, new SeriesEnd(SeriesStatus.STOPPED, LocalDate.parse("2026-11-21"), "moved away")))
			.satisfies((refused) -> assertThat(refused.rule()).isEqualTo(SeriesEndRefused.Rule.IN_THE_FUTURE));
	}

	@Test
	void isOpenAgainWhenItsEndWasAMistake() {
		var id = open();
		end(id, END);
		this.keepSeries.reopen(id, version(id), "wrong patient");
		this.entities.clear();
		assertThat(this.history.series(id)).hasValueSatisfying((series) -> {
			assertThat(series.isOpen()).isTrue();
			assertThat(series.endedOn()).isNull();
			assertThat(series.reason()).isNull();
		});
	}

	@Test
	void staysEndedWhileAnotherOneIsOpen() {
		var first = open();
		end(first, END);
		open();
		assertThatExceptionOfType(AnotherSeriesIsOpen.class)
			.isThrownBy(() -> this.keepSeries.reopen(first, version(first), "wrong patient"));
	}

	@Test
	void refusesAFormThatShowsAnOlderVersion() {
		var id = open();
		end(id, END);
		assertThatExceptionOfType(StaleVersion.class)
			.isThrownBy(() -> this.keepSeries.replan(id, 0L, new SeriesPlan("scars", 5), "more"));
	}

	private SeriesId open() {
		var id = this.keepSeries.open(this.patient, PLAN);
		this.entities.clear();
		return id;
	}

	private void end(SeriesId id, SeriesEnd end) {
		this.keepSeries.end(id, version(id), end);
		this.entities.clear();
	}

	private Long version(SeriesId id) {
		return this.keepSeries.byId(id).orElseThrow().version();
	}

}
