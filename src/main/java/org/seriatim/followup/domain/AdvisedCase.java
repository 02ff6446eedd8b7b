package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

import org.seriatim.assessment.Repeatability;
import org.seriatim.finding.ContactFacts;
import org.seriatim.finding.FindingFacts;
import org.seriatim.finding.LumpCurve;
import org.seriatim.finding.LumpDuration;
import org.seriatim.followup.SeriesFacts;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.SessionFacts;

/**
 * What the rules of an advice look at: the last session of a series with everything that
 * is known around it.
 *
 * @param session the last session of the series, day 0 of every number of days
 * @param lumps lumps of that session
 * @param earlierLumps lumps of earlier sessions of the patient
 */
record AdvisedCase(SeriesFacts facts, SessionFacts session, List<LumpDuration> lumps, List<LumpDuration> earlierLumps,
		ProtocolVersion protocol, LumpCurve curve, Repeatability repeatability) {

	static AdvisedCase of(SeriesFacts facts, SessionFacts session, ProtocolVersion protocol, LumpCurve curve,
			Repeatability repeatability) {
		var lumps = new ArrayList<LumpDuration>();
		var earlier = new ArrayList<LumpDuration>();
		for (var treated : facts.sessions()) {
			if (treated.number() <= session.number()) {
				var durations = facts.findings()
					.stream()
					.filter((finding) -> finding.isLump() && treated.id().equals(finding.session()))
					.map((finding) -> LumpDuration.of(finding, treated.treatedOn()))
					.toList();
				((treated.number() == session.number()) ? lumps : earlier).addAll(durations);
			}
		}
		return new AdvisedCase(facts, session, List.copyOf(lumps), List.copyOf(earlier), protocol, curve,
				repeatability);
	}

	LocalDate day(int number) {
		return this.session.treatedOn().plusDays(number);
	}

	/** The end of an interval, shifted for the thickness of the skin. */
	LocalDate interval(int days) {
		return day(days + skinShift());
	}

	int skinShift() {
		return this.protocol.shiftFor(this.facts.skinThickness());
	}

	/** The interval after a lump that lasted is never shorter than the usual one. */
	int daysIfLumpLasted() {
		return Math.max(this.protocol.baseDays(), this.protocol.extendedDays());
	}

	int threshold() {
		return this.protocol.persistenceThresholdDays();
	}

	List<LumpDuration> persistentLumps() {
		return this.lumps.stream().filter((lump) -> lump.lastedBeyond(threshold())).toList();
	}

	List<ContactFacts> contacts() {
		return this.facts.contacts().stream().filter((contact) -> contact.session().equals(this.session.id())).toList();
	}

	List<FindingFacts> findings() {
		return this.facts.findings();
	}

	/** Days of assessments made after the session. */
	List<LocalDate> assessedSince() {
		return this.facts.assessedOn().stream().filter((day) -> day.isAfter(this.session.treatedOn())).toList();
	}

}
