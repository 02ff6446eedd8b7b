package org.seriatim.privacy.web;

import java.util.List;
import java.util.Objects;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;
import org.seriatim.privacy.domain.DueEntry;
import org.seriatim.privacy.domain.RetainedKind;

/**
 * What becomes of each thing that is due.
 *
 * @param confirmed whether the person has seen by name what goes
 */
record RetentionForm(List<@Valid Decision> due, @Nullable Boolean confirmed) {

	RetentionForm(@Nullable List<@Nullable Decision> due, @Nullable Boolean confirmed) {
		this.due = (due != null) ? due.stream().filter(Objects::nonNull).toList() : List.of();
		this.confirmed = confirmed;
	}

	enum What {

		LATER, REMOVE, KEEP

	}

	/**
	 * @param reason why it is kept
	 */
	record Decision(@Nullable RetainedKind kind, @Nullable PatientId patient, @Nullable What what,
			@Size(max = 300) @Nullable String reason) {
	}

	boolean removes(DueEntry entry) {
		return this.due.stream()
			.anyMatch((decision) -> decision.what() == What.REMOVE && decision.kind() == entry.kind()
					&& entry.patient().equals(decision.patient()));
	}

	static RetentionForm of(List<DueEntry> due) {
		return new RetentionForm(
				due.stream().map((entry) -> new Decision(entry.kind(), entry.patient(), What.LATER, null)).toList(),
				null);
	}

}
