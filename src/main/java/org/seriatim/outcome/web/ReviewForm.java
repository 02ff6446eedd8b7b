package org.seriatim.outcome.web;

import java.time.LocalDate;
import java.util.Objects;

import jakarta.validation.constraints.PastOrPresent;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.outcome.domain.SignalReview;

/**
 * Who looked into a signal, what was found and what was done.
 *
 * @param reason why an ended review is changed
 */
record ReviewForm(@Nullable StaffId lookedBy, @PastOrPresent @Nullable LocalDate lookedOn,
		@Size(max = 4000) @Nullable String whatWasFound, @Size(max = 4000) @Nullable String whatWasDone,
		@Nullable Boolean ended, @Size(max = 500) @Nullable String reason, @Nullable Long version) {

	static ReviewForm from(SignalReview review) {
		var look = review.look();
		return new ReviewForm(look.by(), look.on(), look.found(), look.done(), look.ended(), null, review.version());
	}

	boolean ends() {
		return Boolean.TRUE.equals(this.ended);
	}

	SignalReview.Look toLook() {
		return new SignalReview.Look(this.lookedBy, this.lookedOn, stripped(this.whatWasFound),
				stripped(this.whatWasDone), ends());
	}

	private static @Nullable String stripped(@Nullable String text) {
		return (text == null || text.isBlank()) ? null : text.strip();
	}

	String reasonOr(String usual) {
		return Objects.requireNonNullElse(stripped(this.reason), usual);
	}

}
