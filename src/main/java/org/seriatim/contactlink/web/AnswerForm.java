package org.seriatim.contactlink.web;

import java.util.Set;
import java.util.UUID;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.finding.PatientReport.Lumps;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.shell.Decimal;

/**
 * What a patient answers.
 *
 * @param form made up when the page is shown
 * @param where the regions of the lumps
 * @param said in the patient's own words
 */
record AnswerForm(@Nullable String form, @Nullable Set<RedFlagSign> signs, @Nullable Lumps lumpNow,
		@Nullable Set<Region> where, @Decimal(min = "0", max = "10") @Nullable String painNrs,
		@Size(max = 500) @Nullable String said) {

	AnswerForm {
		signs = (signs != null) ? signs : Set.of();
		where = (where != null) ? where : Set.of();
	}

	static AnswerForm empty() {
		return new AnswerForm(UUID.randomUUID().toString(), null, null, null, null, null);
	}

	/** The form's id; another one where what came is none. */
	UUID id() {
		try {
			return UUID.fromString(String.valueOf(this.form));
		}
		catch (IllegalArgumentException ex) {
			return UUID.randomUUID();
		}
	}

	Set<RedFlagSign> toldSigns() {
		return (this.signs != null) ? this.signs : Set.of();
	}

	Set<Region> named() {
		return (this.where != null) ? this.where : Set.of();
	}

	boolean isEmpty() {
		return toldSigns().isEmpty() && named().isEmpty() && this.lumpNow == null && this.painNrs == null
				&& this.said == null;
	}

	/** Who says where it is has a lump, whatever was not ticked. */
	@Nullable Lumps lumps() {
		return (!named().isEmpty() && this.lumpNow == null) ? Lumps.PRESENT : this.lumpNow;
	}

}
