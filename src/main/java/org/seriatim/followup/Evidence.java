package org.seriatim.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.Region;
import org.seriatim.finding.ContactFacts;
import org.seriatim.finding.FindingFacts;
import org.seriatim.finding.LumpDuration;
import org.seriatim.treatment.SessionFacts;

/**
 * A record that a rule rests on, so that a page can name it and link to it.
 *
 * @param kind what sort of record
 * @param id identifier of the record; of the session for a contact; none for the clinic's
 * figures, which are those of the snapshot
 * @param label what people call it
 * @param on its day, if it has one
 */
public record Evidence(Kind kind, @Nullable UUID id, List<Argument> label, @Nullable LocalDate on) {

	/** Sort of a record. */
	public enum Kind {

		SESSION, FINDING, CONTACT, SCAR, REGION, CURVE, REPEATABILITY

	}

	public Evidence {
		label = List.copyOf(label);
	}

	public static Evidence of(SessionFacts session) {
		return new Evidence(Kind.SESSION, session.id().value(), List.of(Argument.number(session.number())),
				session.treatedOn());
	}

	public static Evidence of(FindingFacts finding) {
		var label = new ArrayList<Argument>();
		label.add(Argument.word("finding-kind", finding.kind().word()));
		if (finding.scarLabel() != null) {
			label.add(Argument.text(finding.scarLabel()));
		}
		else if (finding.region() != null) {
			label.add(word(finding.region()));
		}
		return new Evidence(Kind.FINDING, finding.id().value(), label, finding.firstNotedOn());
	}

	public static List<Evidence> ofLumps(List<LumpDuration> lumps) {
		return lumps.stream().map((lump) -> of(lump.lump())).toList();
	}

	public static Evidence of(ContactFacts contact) {
		return new Evidence(Kind.CONTACT, contact.session().value(),
				List.of(Argument.word("contact-outcome", contact.outcome().word())), contact.contactedOn());
	}

	public static Evidence of(RatedScar scar) {
		return new Evidence(Kind.SCAR, scar.scar().value(), List.of(Argument.text(scar.label())), null);
	}

	public static Evidence of(Region region) {
		return new Evidence(Kind.REGION, null, List.of(word(region)), null);
	}

	public static Evidence ofCurve(int lumps) {
		return new Evidence(Kind.CURVE, null, List.of(Argument.number(lumps)), null);
	}

	public static Evidence ofRepeatability(int pairs) {
		return new Evidence(Kind.REPEATABILITY, null, List.of(Argument.number(pairs)), null);
	}

	/** A region as an argument of a sentence. */
	public static Argument word(Region region) {
		return Argument.word("region", region.word());
	}

}
