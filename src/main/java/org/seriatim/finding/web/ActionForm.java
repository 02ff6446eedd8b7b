package org.seriatim.finding.web;

import java.time.LocalDate;
import java.util.Objects;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.finding.ActionClass;
import org.seriatim.finding.CarriedOut;
import org.seriatim.finding.domain.FindingAction;
import org.seriatim.finding.domain.FindingActionDetails;

/**
 * Something that was done about a finding, new or to be corrected. It asks for no dose.
 *
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record ActionForm(@NotNull(message = "{finding.day.missing}") @Nullable LocalDate doneOn,
		@NotNull(message = "{finding.action.missing}") @Nullable ActionClass action,
		@NotNull(message = "{finding.carried-out.missing}") @Nullable CarriedOut carriedOut, @Nullable StaffId doneBy,
		@Size(max = 2000) @Nullable String description, @Size(max = 500) @Nullable String reason,
		@Nullable Long version) {

	static ActionForm empty(LocalDate today, @Nullable StaffId acting) {
		return new ActionForm(today, null, CarriedOut.CLINIC, acting, null, null, null);
	}

	static ActionForm from(FindingAction action) {
		var known = action.details();
		return new ActionForm(known.doneOn(), known.action(), known.carriedOut(), known.doneBy(), known.description(),
				null, action.version());
	}

	FindingActionDetails toDetails() {
		return new FindingActionDetails(Objects.requireNonNull(this.doneOn), Objects.requireNonNull(this.action),
				Objects.requireNonNull(this.carriedOut), this.doneBy, this.description);
	}

}
