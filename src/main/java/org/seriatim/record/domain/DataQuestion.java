package org.seriatim.record.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.finding.LumpDuration;
import org.seriatim.treatment.RecordedPreparation;

/**
 * A data-quality item: something on record that cannot be as it stands. It is shown until
 * somebody corrects it; what contradicts itself was left out of the figures.
 */
public sealed interface DataQuestion {

	/**
	 * What was prepared does not add up.
	 *
	 * @param differenceMl what is missing (above 0) or was used beyond what there was
	 */
	record Volume(SessionEntry session, RecordedPreparation preparation,
			BigDecimal differenceMl) implements DataQuestion {
	}

	/** Injected after its expiry. */
	record Expired(SessionEntry session, RecordedPreparation preparation) implements DataQuestion {
	}

	/** The mark of a scar lies outside the region that it is recorded in. */
	record MarkOutsideRegion(TrackedScar scar) implements DataQuestion {
	}

	/**
	 * A date of a lump that contradicts the others.
	 *
	 * @param left the date that was left out
	 */
	record Contradiction(FindingEntry finding, LumpDuration.Contradiction why, LocalDate left) implements DataQuestion {
	}

	/** All that there is in a record, by session, scar and finding. */
	static List<DataQuestion> in(SeriesRecord record) {
		var questions = new ArrayList<DataQuestion>();
		for (var session : record.sessions()) {
			for (var preparation : session.session().preparations()) {
				session.session()
					.balanceOf(preparation)
					.filter((balance) -> !balance.addsUp())
					.map((balance) -> new Volume(session, preparation, balance.differenceMl()))
					.ifPresent(questions::add);
				if (preparation.hadExpiredOn(session.treatedOn())) {
					questions.add(new Expired(session, preparation));
				}
			}
		}
		for (var entry : record.scars()) {
			var scar = entry.scar();
			if (scar.x() != null && scar.y() != null
					&& !FaceMap.contains(scar.region(), scar.x().doubleValue(), scar.y().doubleValue())) {
				questions.add(new MarkOutsideRegion(scar));
			}
		}
		for (var finding : record.findings()) {
			finding.duration()
				.ifPresent((duration) -> duration.questions()
					.forEach((left) -> questions.add(new Contradiction(finding, left.contradiction(), left.date()))));
		}
		return questions;
	}

}
