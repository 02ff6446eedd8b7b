package org.seriatim.record.web;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.finding.RecordedContact;
import org.seriatim.followup.Evidence;
import org.seriatim.record.domain.FindingEntry;
import org.seriatim.record.domain.SessionEntry;

/** The places of the series page that links lead to. */
final class Anchors {

	static final String SCARS = "#scars";

	static final String REPEATABILITY = "#measurement-error";

	private Anchors() {
	}

	static String of(SessionEntry session) {
		return "#session-" + session.id();
	}

	static String of(FindingEntry finding) {
		return "#finding-" + finding.finding().id();
	}

	static String of(TrackedScar scar) {
		return "#scar-" + scar.id();
	}

	static String of(RecordedContact contact) {
		return "#contact-" + contact.session() + "-" + contact.contactedOn();
	}

	static String of(Region region) {
		return "#region-" + region.word();
	}

	/** Where the page shows a record that a rule of the advice rests on. */
	static String of(Evidence evidence) {
		return switch (evidence.kind()) {
			case SESSION -> "#session-" + evidence.id();
			case FINDING -> "#finding-" + evidence.id();
			case CONTACT -> "#contact-" + evidence.id() + "-" + evidence.on();
			case SCAR -> "#scar-" + evidence.id();
			case REGION -> "#" + evidence.label().get(0).value().replace('.', '-');
			case REPEATABILITY -> REPEATABILITY;
			case CURVE -> "/outcomes/lumps";
		};
	}

}
