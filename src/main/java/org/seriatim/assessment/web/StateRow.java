package org.seriatim.assessment.web;

import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.domain.ClassifiedScar;
import org.seriatim.shell.RowKey;

/**
 * What became of one scar.
 *
 * @param scar the scar's id
 * @param state nothing where nothing is said of it
 * @param into labels, with commas between them
 * @param why the reason
 */
record StateRow(@RowKey @Nullable String scar,
		@Pattern(regexp = "assessed|not_assessed|not_found|merged|split|excluded|resolved",
				message = "{assessment.choose}") @Nullable String state,
		@Size(max = 200) @Nullable String into, @Size(max = 500) @Nullable String why) {

	static StateRow empty(String scar) {
		return new StateRow(scar, null, null, null);
	}

	/**
	 * @param into the labels of the scars that it became
	 */
	static StateRow from(ClassifiedScar state, String into) {
		var known = state.details();
		return new StateRow(state.scar().toString(), known.standing().word(), into.isEmpty() ? null : into,
				known.reason());
	}

	/** Whether something was typed although no state was chosen. */
	boolean lacksState() {
		return this.state == null && (this.into != null || this.why != null);
	}

}
