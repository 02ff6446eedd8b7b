package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.ShownVersion;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.ProtocolVersion.SkinShift;

/**
 * The clinic's numbers as they are typed.
 *
 * @param basedOn number of the version that the form started from
 * @param contactDays days separated by commas
 * @param note why it is published
 */
record ProtocolForm(@ShownVersion @NotNull @Nullable Integer basedOn,
		@NotNull @Decimal(min = "1", max = "365", unit = "days") @Nullable String baseDays,
		@NotNull @Decimal(min = "0", max = "365", unit = "days") @Nullable String windowDays,
		@NotNull @Decimal(min = "1", max = "365", unit = "days") @Nullable String extendedDays,
		@NotNull @Decimal(min = "1", max = "365", unit = "days") @Nullable String persistenceThresholdDays,
		@NotNull @Decimal(min = "0", max = "365", unit = "days") @Nullable String settlingMarginDays,
		@NotNull @Decimal(min = "0.001", max = "0.999", fraction = 3) @Nullable String clearingProbability,
		@NotNull @Decimal(min = "1", max = "100000") @Nullable String curveLumps,
		@NotNull @Decimal(min = "2", max = "100000") @Nullable String repeatabilityPairs,
		@NotNull @Decimal(min = "2", max = "100000") @Nullable String repeatabilityPatients,
		@NotNull @Decimal(min = "2", max = "99") @Nullable String plateauSessions,
		@NotNull @Decimal(min = "1", max = "1000") @Nullable String plateauScars,
		@NotNull @Decimal(min = "-60", max = "60", unit = "days") @Nullable String skinShiftThin,
		@NotNull @Decimal(min = "-60", max = "60", unit = "days") @Nullable String skinShiftMedium,
		@NotNull @Decimal(min = "-60", max = "60", unit = "days") @Nullable String skinShiftThick,
		@NotBlank @Pattern(regexp = "\\s*\\d{1,3}(\\s*[,;]\\s*\\d{1,3}){0,19}\\s*",
				message = "{treatment.protocol.contact-days.form}") @Nullable String contactDays,
		@NotNull @Decimal(min = "1", max = "90", unit = "days") @Nullable String contactEveryDays,
		@NotBlank @Size(max = 400) @Nullable String note) {

	private static final int LAST_CONTACT_DAY = 365;

	static ProtocolForm from(ProtocolVersion version) {
		return new ProtocolForm(version.number(), text(version.baseDays()), text(version.windowDays()),
				text(version.extendedDays()), text(version.persistenceThresholdDays()),
				text(version.settlingMarginDays()), probability(version), text(version.curveLumps()),
				text(version.repeatabilityPairs()), text(version.repeatabilityPatients()),
				text(version.plateauSessions()), text(version.plateauScars()), text(version.skinShift().thin()),
				text(version.skinShift().medium()), text(version.skinShift().thick()), contactDays(version),
				text(version.contactEveryDays()), null);
	}

	private static String text(int value) {
		return Integer.toString(value);
	}

	static String probability(ProtocolVersion version) {
		return BigDecimal.valueOf(version.clearingProbability()).stripTrailingZeros().toPlainString();
	}

	static String contactDays(ProtocolVersion version) {
		return version.contactDays().stream().map(String::valueOf).collect(Collectors.joining(", "));
	}

	/** Whether the days of the contacts rise, within a year. */
	boolean contactDaysRise() {
		var days = days();
		for (var i = 0; i < days.size(); i++) {
			if (days.get(i) < ((i > 0) ? days.get(i - 1) + 1 : 1) || days.get(i) > LAST_CONTACT_DAY) {
				return false;
			}
		}
		return true;
	}

	/** Whether every thickness class is left with an interval of a day or more. */
	boolean leavesAnInterval() {
		var least = Math.min(whole(this.skinShiftThin),
				Math.min(whole(this.skinShiftMedium), whole(this.skinShiftThick)));
		return whole(this.baseDays) + least >= 1;
	}

	/** The version that a complete form describes. */
	ProtocolVersion toVersion(int number, LocalDate publishedOn) {
		return new ProtocolVersion(number, publishedOn, whole(this.baseDays), whole(this.windowDays),
				whole(this.extendedDays), whole(this.persistenceThresholdDays), whole(this.settlingMarginDays),
				Objects.requireNonNull(DecimalText.value(this.clearingProbability)).doubleValue(),
				whole(this.curveLumps), whole(this.repeatabilityPairs), whole(this.repeatabilityPatients),
				whole(this.plateauSessions), whole(this.plateauScars),
				new SkinShift(whole(this.skinShiftThin), whole(this.skinShiftMedium), whole(this.skinShiftThick)),
				days(), whole(this.contactEveryDays));
	}

	private List<Integer> days() {
		return Arrays.stream(Objects.requireNonNull(this.contactDays).split("[,;]"))
			.map(String::strip)
			.map(Integer::valueOf)
			.toList();
	}

	private static int whole(@Nullable String text) {
		return Objects.requireNonNull(DecimalText.whole(text));
	}

}
