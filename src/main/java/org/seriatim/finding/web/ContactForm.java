package org.seriatim.finding.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.domain.Contact;
import org.seriatim.finding.domain.ContactDetails;
import org.seriatim.finding.domain.Finding;
import org.seriatim.finding.domain.LumpAnswer;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;

/**
 * A contact after a session, new or to be corrected.
 *
 * @param signs alarming signs, asked for before anything else
 * @param lumps the lumps that are asked for one by one; none for the front desk
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record ContactForm(@Nullable Set<RedFlagSign> signs,
		@NotNull(message = "{finding.day.missing}") @Nullable LocalDate contactedOn,
		@NotNull(message = "{finding.channel.missing}") @Nullable Channel channel,
		@NotNull(message = "{finding.outcome.missing}") @Nullable ContactOutcome outcome,
		@Nullable Boolean lumpsPresent, @Nullable List<@Valid LumpLine> lumps,
		@Decimal(min = "0", max = "10") @Nullable String painNrs, @Size(max = 2000) @Nullable String note,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	/** One lump that is asked for. */
	record LumpLine(@RowKey @Nullable FindingId lump, @Nullable Boolean present,
			@Decimal(min = "0.1", max = "200", fraction = 1, unit = "mm") @Nullable String sizeMm) {
	}

	static ContactForm empty(LocalDate today, List<Finding> lumps) {
		return new ContactForm(Set.of(), today, Channel.PHONE, null, null,
				lumps.stream().map((lump) -> new LumpLine(lump.id(), null, null)).toList(), null, null, null, null);
	}

	static ContactForm from(Contact contact) {
		var known = contact.details();
		return new ContactForm(Set.of(), known.contactedOn(), known.channel(), known.outcome(), known.lumpsPresent(),
				List.of(), DecimalText.of(known.painNrs()), known.note(), null, contact.version());
	}

	/**
	 * What was typed, shown again: without the signs, which have been raised, and with a
	 * line for each lump that is asked for now.
	 */
	ContactForm again(List<Finding> asked) {
		var lines = asked.stream().map((lump) -> typed(lump.id())).toList();
		return new ContactForm(Set.of(), this.contactedOn, this.channel, this.outcome, this.lumpsPresent, lines,
				this.painNrs, this.note, this.reason, this.version);
	}

	private LumpLine typed(FindingId lump) {
		return Stream.ofNullable(this.lumps)
			.flatMap(List::stream)
			.filter((line) -> lump.equals(line.lump()))
			.findFirst()
			.orElseGet(() -> new LumpLine(lump, null, null));
	}

	boolean isAlarming() {
		return this.signs != null && !this.signs.isEmpty();
	}

	ContactDetails toDetails() {
		return new ContactDetails(Objects.requireNonNull(this.contactedOn), Objects.requireNonNull(this.channel),
				Objects.requireNonNull(this.outcome), this.lumpsPresent, DecimalText.whole(this.painNrs), this.note);
	}

	List<LumpAnswer> toAnswers() {
		return (this.lumps == null) ? List.of()
				: this.lumps.stream()
					.filter((line) -> line.lump() != null && line.present() != null)
					.map((line) -> new LumpAnswer(Objects.requireNonNull(line.lump()),
							Objects.requireNonNull(line.present()), DecimalText.value(line.sizeMm())))
					.toList();
	}

}
