package org.seriatim.contactlink.domain;

import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.finding.PatientReport.Lumps;
import org.seriatim.finding.RedFlagSign;

/**
 * What a patient sent. What was not answered is {@code null} or empty.
 *
 * @param form made up when the page was shown: what comes twice with it is one answer
 * @param said in the patient's own words
 * @param note what of it goes into the contact, in words
 */
public record LinkAnswer(UUID form, Set<RedFlagSign> signs, @Nullable Lumps lumps, Set<Region> regions,
		@Nullable Integer painNrs, @Nullable String said, @Nullable String note) {

	public LinkAnswer {
		signs = Set.copyOf(signs);
		regions = Set.copyOf(regions);
	}

	/** Prints nothing of what was said. */
	@Override
	public String toString() {
		return "LinkAnswer " + this.form;
	}

}
