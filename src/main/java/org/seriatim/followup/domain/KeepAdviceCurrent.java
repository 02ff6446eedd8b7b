package org.seriatim.followup.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;

import org.seriatim.followup.AdviceId;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.followup.domain.KeptAdvice.NewAdvice;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.Protocols;
import org.seriatim.treatment.SeriesId;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Keeps the current advice of every open series equal to what the record, the newest
 * protocol and the newest snapshot say. An advice that would say the same again is left
 * as it stands, with what it first rested on; another one takes the place of the one
 * before, which is kept.
 */
@Service
class KeepAdviceCurrent {

	/** Patients read at once, so that the largest clinic fits into memory. */
	private static final int AT_ONCE = 250;

	private final JdbcClient database;

	private final RecordedFacts facts;

	private final Snapshots snapshots;

	private final Protocols protocols;

	private final KeptAdvice kept;

	private final Clock clock;

	KeepAdviceCurrent(JdbcClient database, RecordedFacts facts, Snapshots snapshots, Protocols protocols,
			KeptAdvice kept, Clock clock) {
		this.database = database;
		this.facts = facts;
		this.snapshots = snapshots;
		this.protocols = protocols;
		this.kept = kept;
		this.clock = clock;
	}

	/** After a change of one patient's record, in the transaction of the change. */
	@Transactional
	public void ofPatient(PatientId patient) {
		var snapshot = standBy(patient);
		rewrite(List.of(patient), snapshot, this.protocols.current());
	}

	/** Lets nobody change the advice on a patient until the transaction has ended. */
	void holdStill(PatientId patient) {
		standBy(patient);
	}

	/** After a new protocol version: all series by the newest snapshot. */
	@Transactional
	public void ofEverybody() {
		standAlone();
		rewriteAll(this.snapshots.latest().orElseGet(this.snapshots::take));
	}

	/** Takes a snapshot and rewrites all series by it. */
	@Transactional
	public void withNewSnapshot() {
		standAlone();
		rewriteAll(this.snapshots.take());
	}

	/** The same, unless this day's snapshot was already taken. */
	@Transactional
	public void withSnapshotOfToday() {
		standAlone();
		if (!this.snapshots.existsFor(LocalDate.now(this.clock))) {
			rewriteAll(this.snapshots.take());
		}
	}

	/*
	 * Two transactions that change one patient's record would each advise without the
	 * other's change; so the second one waits here and then sees what the first one
	 * wrote. Whoever rewrites all series waits for those that rewrite one, and they for
	 * it.
	 */
	private Snapshot standBy(PatientId patient) {
		var snapshot = this.snapshots.latest();
		if (snapshot.isEmpty()) {
			standAlone();
			return this.snapshots.latest().orElseGet(this.snapshots::take);
		}
		lock("pg_advisory_xact_lock_shared");
		this.database.sql("select id from patient where id = :id for no key update")
			.param("id", patient.value())
			.query()
			.listOfRows();
		return this.snapshots.latest().orElseThrow();
	}

	private void standAlone() {
		lock("pg_advisory_xact_lock");
	}

	private void lock(String function) {
		this.database.sql("select %s(hashtext('current advice'))::text".formatted(function)).query().listOfRows();
	}

	private void rewriteAll(Snapshot snapshot) {
		var protocol = this.protocols.current();
		var patients = new LinkedHashSet<>(this.facts.patientsWithOpenSeries(LocalDate.now(this.clock)));
		patients.addAll(this.kept.patientsWithCurrentAdvice());
		var all = List.copyOf(patients);
		for (int from = 0; from < all.size(); from += AT_ONCE) {
			rewrite(all.subList(from, Math.min(all.size(), from + AT_ONCE)), snapshot, protocol);
		}
	}

	private void rewrite(Collection<PatientId> patients, Snapshot snapshot, ProtocolVersion protocol) {
		var now = this.clock.instant();
		var day = LocalDate.ofInstant(now, this.clock.getZone());
		Map<SeriesId, StandingAdvice> standing = new HashMap<>();
		this.kept.currentOf(patients).forEach((advice) -> standing.put(advice.advice().series(), advice));
		var added = new ArrayList<NewAdvice>();
		var replaced = new ArrayList<AdviceId>();
		for (var series : this.facts.openSeries(patients, day)) {
			var figures = snapshot.figures();
			var advice = IntervalAdvice.advise(series.facts(), protocol, figures.curve(), figures.ratings());
			if (advice.isPresent()) {
				var before = standing.remove(series.facts().series());
				if (before == null || !before.advice().equals(advice.get())) {
					added.add(new NewAdvice(AdviceId.next(), series.patient(), day, snapshot.number(), series.facts(),
							advice.get()));
					if (before != null) {
						replaced.add(before.id());
					}
				}
			}
		}
		// what is left is about a series that is not advised on any more
		standing.values().forEach((ended) -> replaced.add(ended.id()));
		this.kept.replace(replaced, added, now.atOffset(ZoneOffset.UTC));
	}

}
