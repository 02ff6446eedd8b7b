package org.seriatim.followup;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.RatedScar;
import org.seriatim.finding.ContactFacts;
import org.seriatim.finding.FindingFacts;
import org.seriatim.patient.SkinThickness;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SessionFacts;

/**
 * Everything about one patient that an advice on one of the patient's series rests on.
 *
 * @param series the series that is advised on
 * @param status whether it is still open
 * @param endedOn day on which it ended, if known
 * @param skinThickness thickness class of the skin, if recorded
 * @param sessions all sessions of the patient, also those of other series; kept in the
 * order of their numbers
 * @param findings all findings of the patient
 * @param contacts contacts after the sessions of the patient
 * @param scars tracked scars with their ratings
 * @param assessedOn days with a scar, pore or global assessment, each once; kept in order
 */
public record SeriesFacts(SeriesId series, SeriesStatus status, @Nullable LocalDate endedOn,
		@Nullable SkinThickness skinThickness, List<SessionFacts> sessions, List<FindingFacts> findings,
		List<ContactFacts> contacts, List<RatedScar> scars, List<LocalDate> assessedOn) {

	public SeriesFacts {
		sessions = sessions.stream().sorted(Comparator.comparingInt(SessionFacts::number)).toList();
		findings = List.copyOf(findings);
		contacts = List.copyOf(contacts);
		scars = List.copyOf(scars);
		assessedOn = assessedOn.stream().distinct().sorted().toList();
	}

	/** The sessions of the series itself, in order. */
	public List<SessionFacts> ofSeries() {
		return this.sessions.stream().filter((session) -> session.series().equals(this.series)).toList();
	}

	/** The session that an advice is about; empty before the first one. */
	public Optional<SessionFacts> lastSession() {
		var ofSeries = ofSeries();
		return ofSeries.isEmpty() ? Optional.empty() : Optional.of(ofSeries.get(ofSeries.size() - 1));
	}

	/** Day of the first session of another series after the last of this one. */
	public Optional<LocalDate> nextSeriesOn() {
		return lastSession().flatMap((last) -> this.sessions.stream()
			.filter((session) -> session.number() > last.number())
			.map(SessionFacts::treatedOn)
			.min(LocalDate::compareTo));
	}

	/**
	 * The same facts as they were known at the end of a day: no record dated later is
	 * among them. A series that ended later is open.
	 */
	public SeriesFacts asOf(LocalDate day) {
		var endedLater = this.endedOn != null && this.endedOn.isAfter(day);
		return new SeriesFacts(this.series, endedLater ? SeriesStatus.OPEN : this.status,
				endedLater ? null : this.endedOn, this.skinThickness,
				this.sessions.stream().filter((session) -> !session.treatedOn().isAfter(day)).toList(),
				this.findings.stream()
					.filter((finding) -> !finding.firstNotedOn().isAfter(day))
					.map((finding) -> finding.asOf(day))
					.toList(),
				this.contacts.stream().filter((contact) -> !contact.contactedOn().isAfter(day)).toList(),
				this.scars.stream().map((scar) -> scar.asOf(day)).toList(),
				this.assessedOn.stream().filter((assessed) -> !assessed.isAfter(day)).toList());
	}

}
