package org.seriatim.treatment.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.domain.SessionDetails.Injected;
import org.seriatim.treatment.domain.SessionDetails.Prepared;

/**
 * What a session has to fit into: its series, the patient's other sessions and scars, and
 * the day.
 *
 * @param session the session that is corrected, {@code null} for a new one
 * @param sessions all sessions of the patient
 * @param scars all tracked scars of the patient
 */
record SessionSetting(SeriesSummary series, @Nullable SessionId session, List<RecordedSession> sessions,
		Set<ScarId> scars, LocalDate today) {

	SessionSetting {
		sessions = sessions.stream()
			.filter((other) -> !other.id().equals(session))
			.sorted(Comparator.comparingInt(RecordedSession::number))
			.toList();
		scars = Set.copyOf(scars);
	}

	/** The number that a new session gets. */
	int nextNumber() {
		return this.sessions.isEmpty() ? 1 : this.sessions.get(this.sessions.size() - 1).number() + 1;
	}

	/** Every rule that the details break. */
	List<SessionFault> faults(SessionDetails details) {
		var faults = new ArrayList<SessionFault>();
		faults.addAll(ofSeries(details));
		faults.addAll(ofDay(details));
		var measures = details.circumstances();
		if (measures.rfDepthMm() != null
				&& (measures.combination() == null || measures.combination() == Combination.NONE)) {
			faults.add(SessionFault.of(SessionRule.DEPTH_WITHOUT_RADIOFREQUENCY));
		}
		details.preparations().forEach((prepared) -> faults.addAll(ofPreparation(prepared)));
		details.injections().forEach((injected) -> faults.addAll(ofInjection(injected, details)));
		return faults;
	}

	private List<SessionFault> ofSeries(SessionDetails details) {
		if (this.series.isOpen()) {
			return List.of();
		}
		if (this.session == null) {
			return List.of(SessionFault.of(SessionRule.SERIES_ENDED, this.series.number()));
		}
		return (this.series.endedOn() != null && details.treatedOn().isAfter(this.series.endedOn()))
				? List.of(SessionFault.of(SessionRule.AFTER_END_OF_SERIES, this.series.endedOn())) : List.of();
	}

	private List<SessionFault> ofDay(SessionDetails details) {
		var faults = new ArrayList<SessionFault>();
		if (details.treatedOn().isAfter(this.today)) {
			faults.add(SessionFault.of(SessionRule.IN_THE_FUTURE));
		}
		for (var other : this.sessions) {
			if (other.number() == details.number()) {
				faults.add(SessionFault.of(SessionRule.NUMBER_TAKEN, other.number(), other.treatedOn()));
			}
		}
		this.sessions.stream()
			.filter((other) -> other.number() < details.number() && other.treatedOn().isAfter(details.treatedOn()))
			.reduce((one, nearer) -> nearer)
			.ifPresent((earlier) -> faults
				.add(SessionFault.of(SessionRule.BEFORE_EARLIER_NUMBER, earlier.number(), earlier.treatedOn())));
		this.sessions.stream()
			.filter((other) -> other.number() > details.number() && other.treatedOn().isBefore(details.treatedOn()))
			.findFirst()
			.ifPresent((later) -> faults
				.add(SessionFault.of(SessionRule.AFTER_LATER_NUMBER, later.number(), later.treatedOn())));
		return faults;
	}

	private static List<SessionFault> ofPreparation(Prepared prepared) {
		var faults = new ArrayList<SessionFault>();
		var vial = prepared.reconstitution();
		if (vial.drewMoreThanThereWas()) {
			faults.add(SessionFault.ofPart(SessionRule.STOCK_EXCEEDS_DILUENT, prepared.number(), vial.diluentMl()));
		}
		if (vial.lidocaineMl() != null && vial.lidocaineMl().signum() > 0 && vial.lidocainePercent() == null) {
			faults.add(SessionFault.ofPart(SessionRule.LIDOCAINE_WITHOUT_STRENGTH, prepared.number()));
		}
		return faults;
	}

	private List<SessionFault> ofInjection(Injected injected, SessionDetails details) {
		var faults = new ArrayList<SessionFault>();
		if (injected.preparation() != null && !details.hasPreparation(injected.preparation())) {
			faults.add(SessionFault.ofPart(SessionRule.UNKNOWN_PREPARATION, injected.number(), injected.preparation()));
		}
		var scar = injected.placement().scar();
		if (scar != null && !this.scars.contains(scar)) {
			faults.add(SessionFault.ofPart(SessionRule.SCAR_OF_ANOTHER_PATIENT, injected.number()));
		}
		else if (scar != null && injected.placement().target() == Target.PORES) {
			faults.add(SessionFault.ofPart(SessionRule.SCAR_FOR_PORES, injected.number()));
		}
		return faults;
	}

}
