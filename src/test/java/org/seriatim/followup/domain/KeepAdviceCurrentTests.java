package org.seriatim.followup.domain;

import java.util.List;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;

import org.seriatim.access.Role;
import org.seriatim.followup.ARecord;
import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceDecisions;
import org.seriatim.followup.AdviceReplaced;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.followup.OverrideRefused;
import org.seriatim.followup.OverrideRefused.Why;
import org.seriatim.followup.Rule;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.treatment.ProtocolPublished;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.seriatim.followup.ARecord.day;

@DatabaseTest
class KeepAdviceCurrentTests {

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	@Autowired
	private CurrentAdvice currentAdvice;

	@Autowired
	private KeepAdviceCurrent keep;

	@Autowired
	private Snapshots snapshots;

	@Autowired
	private Protocols protocols;

	@Autowired
	private RecordedFacts facts;

	@Autowired
	private AdviceDecisions decisions;

	private ARecord record;

	private SeriesId series;

	private SessionId session;

	@BeforeEach
	void openASeriesWithASession() {
		this.record = ARecord.of(this.database, "T-1");
		this.series = this.record.openSeries();
		this.session = this.record.session(this.series, 0);
		changed();
	}

	private void changed() {
		this.events.publishEvent(new PatientRecordChanged(this.record.patient()));
	}

	private StandingAdvice current() {
		return this.currentAdvice.of(this.series).orElseThrow();
	}

	private Advice computedFromScratch() {
		var snapshot = this.snapshots.latest().orElseThrow().figures();
		var facts = this.facts.openSeries(List.of(this.record.patient()), day(80)).get(0).facts();
		return IntervalAdvice.advise(facts, this.protocols.current(), snapshot.curve(), snapshot.ratings())
			.orElseThrow();
	}

	@Test
	void advisesOnceASessionIsRecorded() {
		assertThat(current().advice().ruleWords()).containsExactly("unknown");
		assertThat(current().advice().first()).isEqualTo(day(42));
		assertThat(current().advice()).isEqualTo(computedFromScratch());
	}

	@Test
	void startsWithTheProtocolOfCommonPractice() {
		var protocol = this.protocols.byNumber(1).orElseThrow();

		assertThat(protocol).usingRecursiveComparison()
			.ignoringFields("publishedOn")
			.isEqualTo(ProtocolFixture.firstProtocol());
	}

	@Test
	void followsEachChangeOfTheRecord() {
		this.record.contact(this.session, 15);
		changed();
		assertThat(current().advice().ruleWords()).containsExactly("base");
		assertThat(current().advice()).isEqualTo(computedFromScratch());

		var lump = this.record.finding(this.session, "lump", 0);
		this.record.observe(lump, 20, true);
		changed();
		assertThat(current().advice().ruleWords()).containsExactly("persistent", "still_there");
		assertThat(current().advice()).isEqualTo(computedFromScratch());

		this.record.observe(lump, 30, false);
		changed();
		assertThat(current().advice().ruleWords()).containsExactly("persistent");
		assertThat(current().advice()).isEqualTo(computedFromScratch());

		this.record.finding(null, "burn", 40);
		changed();
		assertThat(current().advice().status()).isEqualTo(AdviceStatus.HOLD);
		assertThat(current().advice()).isEqualTo(computedFromScratch());
	}

	@Test
	void readsTheScarsOfAPlateau() {
		this.record.contact(this.session, 15);
		this.record.session(this.series, 20);
		this.record.session(this.series, 40);
		for (var scar : List.of("A", "B", "C")) {
			this.record.rate(scar, 10, 0.5);
			this.record.rate(scar, 30, 0.5);
			this.record.rate(scar, 60, 0.5);
		}
		changed();

		assertThat(this.facts.openSeries(List.of(this.record.patient()), day(80)).get(0).facts().scars()).hasSize(3)
			.allSatisfy((scar) -> assertThat(scar.ratings()).hasSize(3));
		assertThat(current().advice()).isEqualTo(computedFromScratch());
		assertThat(current().advice().sessionNumber()).isEqualTo(3);
		assertThat(current().advice().follows(Rule.UNKNOWN)).isFalse();
	}

	@Test
	void leavesAnAdviceThatWouldSayTheSameAsItStands() {
		var before = current();
		changed();

		assertThat(current()).isEqualTo(before);
		assertThat(this.currentAdvice.everGivenOn(this.series)).hasSize(1);
	}

	@Test
	void keepsWhatWasAdvisedBefore() {
		var before = current();
		this.record.contact(this.session, 15);
		changed();

		assertThat(this.currentAdvice.everGivenOn(this.series)).extracting(StandingAdvice::id)
			.containsExactly(current().id(), before.id());
		assertThat(this.currentAdvice.everGivenOn(this.series).get(1).isCurrent()).isFalse();
	}

	@Test
	void computesAPastAdviceAgainAsItWas() {
		var before = current();
		this.record.contact(this.session, 15);
		var lump = this.record.finding(this.session, "lump", 0);
		this.record.observe(lump, 20, true);
		changed();
		this.keep.withNewSnapshot();
		publishProtocolWithBaseOf(35);

		assertThat(this.currentAdvice.asItWas(before.id())).contains(before.advice());
		assertThat(this.currentAdvice.asItWas(current().id())).contains(current().advice());
	}

	@Test
	void endsWithTheSeries() {
		this.record.end(this.series, 60);
		changed();

		assertThat(this.currentAdvice.of(this.series)).isEmpty();
		assertThat(this.currentAdvice.everGivenOn(this.series)).hasSize(1);
	}

	@Test
	void givesNoneBeforeTheFirstSession() {
		var other = this.record.openSeries();
		changed();

		assertThat(this.currentAdvice.of(other)).isEmpty();
	}

	@Test
	void rewritesAllOpenSeriesWhenAProtocolIsPublished() {
		var other = ARecord.of(this.database, "T-2");
		var otherSeries = other.openSeries();
		other.session(otherSeries, 10);
		publishProtocolWithBaseOf(35);

		assertThat(current().advice().first()).isEqualTo(day(35));
		assertThat(current().advice().protocolVersion()).isEqualTo(2);
		assertThat(this.currentAdvice.of(otherSeries).orElseThrow().advice().first()).isEqualTo(day(45));
	}

	private void publishProtocolWithBaseOf(int days) {
		this.database.sql("""
				insert into protocol_version
				select 2, now(), null, 'shorter', :days, window_days, extended_interval_days,
					persistence_threshold_days, settling_margin_days, clearing_probability, curve_minimum_lumps,
					repeatability_minimum_pairs, repeatability_minimum_patients, plateau_from_session,
					plateau_minimum_scars, skin_shift_thin_days, skin_shift_medium_days, skin_shift_thick_days,
					contact_days, contact_repeat_days
				from protocol_version where number = 1""").param("days", days).update();
		this.events.publishEvent(new ProtocolPublished(2));
	}

	@Test
	void restsOnTheNewestSnapshotOnceItIsTaken() {
		var lump = this.record.finding(this.session, "lump", 0);
		this.record.observe(lump, 20, true);
		changed();
		assertThat(this.snapshots.latest().orElseThrow().figures().curve().lumps()).isZero();
		var before = current();

		this.keep.withNewSnapshot();

		assertThat(this.snapshots.latest().orElseThrow().figures().curve().lumps()).isEqualTo(1);
		assertThat(current().snapshot()).isEqualTo(before.snapshot() + 1);
		assertThat(current().advice()).isEqualTo(computedFromScratch());
	}

	@Test
	void takesOneSnapshotADayUnlessAskedForMore() {
		var first = this.snapshots.latest().orElseThrow().number();
		this.keep.withSnapshotOfToday();
		assertThat(this.snapshots.latest().orElseThrow().number()).isEqualTo(first);

		this.keep.withNewSnapshot();
		assertThat(this.snapshots.latest().orElseThrow().number()).isEqualTo(first + 1);
	}

	@Test
	@SignedInAs(Role.PRACTITIONER)
	void keepsADecisionWithWhoAndWhen() {
		this.decisions.accept(current().id());

		assertThat(current().decision()).hasValueSatisfying((decision) -> {
			assertThat(decision.accepted()).isTrue();
			assertThat(decision.decidedAt()).isEqualTo("2026-11-20T09:00:00Z");
			assertThat(this.database.sql("select name from staff where id = :id")
				.param("id", decision.decidedBy().id().value())
				.query(String.class)
				.single()).isEqualTo("practitioner");
		});
		assertThat(this.database.sql(
				"select count(*) from audit_entry where action = 'decided' and kind = 'advice' and patient_id = :patient")
			.param("patient", this.record.patient().value())
			.query(Integer.class)
			.single()).isEqualTo(1);
	}

	@Test
	@SignedInAs(Role.PRACTITIONER)
	void letsAPractitionersOwnWindowHold() {
		this.decisions.override(current().id(), " wants to travel ", day(50), day(55));

		assertThat(current().isOverridden()).isTrue();
		assertThat(current().first()).isEqualTo(day(50));
		assertThat(current().last()).isEqualTo(day(55));
		assertThat(current().advice().first()).isEqualTo(day(42));
		assertThat(current().decision().orElseThrow().reason()).isEqualTo("wants to travel");
	}

	@Test
	@SignedInAs(Role.PRACTITIONER)
	void letsTheOwnWindowHoldWhileTheAdviceSaysTheSame() {
		this.decisions.override(current().id(), "wants to travel", day(50), day(55));
		this.database.sql("""
				insert into contact (patient_id, session_id, contacted_on, channel, outcome)
				values (:patient, :session, :day, 'phone', 'no_answer')""")
			.param("patient", this.record.patient().value())
			.param("session", this.session.value())
			.param("day", day(3))
			.update();
		changed();

		assertThat(current().advice().nextContact()).isEqualTo(day(7));
		assertThat(current().first()).isEqualTo(day(50));
	}

	@Test
	@SignedInAs(Role.PRACTITIONER)
	void asksForANewDecisionOnceTheAdviceSaysSomethingElse() {
		this.decisions.override(current().id(), "wants to travel", day(50), day(55));
		this.record.finding(null, "burn", 30);
		changed();

		assertThat(current().decision()).isEmpty();
		assertThat(current().changedSince()).isTrue();
		assertThat(current().latestDecision()).isNotNull();
		assertThat(current().first()).isNull();
	}

	@Test
	@SignedInAs(Role.PRACTITIONER)
	void refusesADecisionOnAnAdviceThatWasReplaced() {
		var before = current().id();
		this.record.contact(this.session, 15);
		changed();

		assertThatExceptionOfType(AdviceReplaced.class).isThrownBy(() -> this.decisions.accept(before));
		assertThatExceptionOfType(AdviceReplaced.class)
			.isThrownBy(() -> this.decisions.override(before, "late", day(50), day(55)));
	}

	@Test
	@SignedInAs(Role.PRACTITIONER)
	void refusesAnOverrideThatCannotHold() {
		assertThatExceptionOfType(OverrideRefused.class)
			.isThrownBy(() -> this.decisions.override(current().id(), "why", day(0), day(10)))
			.returns(Why.BEFORE_SESSION, OverrideRefused::why);
		assertThatExceptionOfType(OverrideRefused.class)
			.isThrownBy(() -> this.decisions.override(current().id(), "why", day(50), day(49)))
			.returns(Why.LAST_BEFORE_FIRST, OverrideRefused::why);
		assertThatExceptionOfType(OverrideRefused.class)
			.isThrownBy(() -> this.decisions.override(current().id(), " ", day(50), day(55)))
			.returns(Why.NO_REASON, OverrideRefused::why);
		this.record.finding(null, "burn", 30);
		changed();
		assertThatExceptionOfType(OverrideRefused.class)
			.isThrownBy(() -> this.decisions.override(current().id(), "why", day(50), day(55)))
			.returns(Why.ON_HOLD, OverrideRefused::why);
	}

}
