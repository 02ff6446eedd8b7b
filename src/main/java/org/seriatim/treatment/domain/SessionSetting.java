package org.seriatim.treatment.domain;

import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.VialFate;
import org.seriatim.treatment.VolumeBalance;
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
		Set<ScarId> scars, LocalDate today, ZoneId zone) {

	/**
	 * Beyond it a time of reconstitution is a slip: published ones are up to 72 hours.
	 */
	private static final int STANDS_AT_MOST_DAYS = 60;

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
		details.preparations().forEach((prepared) -> faults.addAll(ofPreparation(prepared, details)));
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

	private List<SessionFault> ofPreparation(Prepared prepared, SessionDetails details) {
		var faults = new ArrayList<SessionFault>();
		var vial = prepared.reconstitution();
		if (vial.drewMoreThanThereWas()) {
			faults.add(SessionFault.ofPart(SessionRule.STOCK_EXCEEDS_DILUENT, prepared.number(), vial.diluentMl()));
		}
		if (vial.lidocaineMl() != null && vial.lidocaineMl().signum() > 0 && vial.lidocainePercent() == null) {
			faults.add(SessionFault.ofPart(SessionRule.LIDOCAINE_WITHOUT_STRENGTH, prepared.number()));
		}
		faults.addAll(ofHandling(prepared, details));
		return faults;
	}

	private List<SessionFault> ofHandling(Prepared prepared, SessionDetails details) {
		var faults = new ArrayList<SessionFault>();
		var number = prepared.number();
		var vial = prepared.reconstitution();
		var handling = prepared.handling();
		if (vial.expiresOn() != null && vial.expiresOn().isBefore(details.treatedOn())
				&& handling.expiredReason() == null) {
			faults.add(SessionFault.ofPart(SessionRule.EXPIRED_WITHOUT_REASON, number, vial.expiresOn()));
		}
		if (!vial.drewMoreThanThereWas() && handling.balanceReason() == null) {
			details.balanceOf(prepared)
				.filter((balance) -> !balance.addsUp())
				.ifPresent((balance) -> faults.add(SessionFault.ofPart(SessionRule.VOLUME_UNEXPLAINED, number,
						balance.preparedMl(), balance.injectedMl(), balance.discardedMl(), balance.differenceMl())));
		}
		if (handling.waited().filter(Duration::isNegative).isPresent()) {
			faults.add(SessionFault.ofPart(SessionRule.USED_BEFORE_RECONSTITUTION, number));
		}
		else if (Stream.of(handling.reconstitutedAt(), handling.firstUsedAt())
			.filter(Objects::nonNull)
			.map((time) -> LocalDate.ofInstant(time, this.zone))
			.anyMatch((day) -> day.isAfter(details.treatedOn())
					|| day.isBefore(details.treatedOn().minusDays(STANDS_AT_MOST_DAYS)))) {
			faults.add(SessionFault.ofPart(SessionRule.TIME_FAR_FROM_THE_DAY, number,
					details.treatedOn().minusDays(STANDS_AT_MOST_DAYS), details.treatedOn()));
		}
		if (vial.diluentMl() != null && vial.stockDrawnMl() != null && handling.vialFate() == VialFate.NOTHING_LEFT
				&& vial.diluentMl().subtract(vial.stockDrawnMl()).compareTo(VolumeBalance.TOLERANCE_ML) > 0) {
			faults.add(SessionFault.ofPart(SessionRule.VIAL_FATE_CONTRADICTS, number,
					vial.diluentMl().subtract(vial.stockDrawnMl())));
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
