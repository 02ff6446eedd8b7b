package org.seriatim.assessment.web;

import java.util.Locale;
import java.util.Objects;
import java.util.stream.Stream;

import jakarta.validation.constraints.Pattern;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.domain.ScarMeasurement;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.RowKey;

/**
 * The line of one scar in the form of a visit.
 *
 * @param scar the scar's id
 * @param depthMethod nothing where the form's usual method holds
 * @param depthClass nothing where it follows from the depth
 */
record ScarRow(@RowKey @Nullable String scar,
		@Decimal(min = "0.001", max = "300", fraction = 3, unit = "mm") @Nullable String lengthMm,
		@Decimal(min = "0.001", max = "100", fraction = 3, unit = "mm") @Nullable String widthMm,
		@Decimal(min = "0", max = "10", fraction = 3, unit = "mm") @Nullable String depthMm,
		@Pattern(regexp = "estimated|gauge|ultrasound|imaging_3d|other",
				message = "{assessment.choose}") @Nullable String depthMethod,
		@Pattern(regexp = "minimal|shallow|deep", message = "{assessment.choose}") @Nullable String depthClass,
		@Decimal(min = "0", max = "4") @Nullable String severity,
		@Decimal(min = "-1", max = "4") @Nullable String response) {

	static ScarRow empty(String scar) {
		return new ScarRow(scar, null, null, null, null, null, null, null);
	}

	static ScarRow from(String scar, ScarMeasurement measured) {
		return new ScarRow(scar, DecimalText.of(measured.lengthMm()), DecimalText.of(measured.widthMm()),
				DecimalText.of(measured.depthMm()),
				(measured.depthMethod() != null) ? measured.depthMethod().word() : null,
				(measured.depthClass() != null && measured.depthMm() == null) ? measured.depthClass().word() : null,
				DecimalText.of(measured.severity()), DecimalText.of(measured.response()));
	}

	boolean isEmpty() {
		return Stream.of(this.lengthMm, this.widthMm, this.depthMm, this.depthClass, this.severity, this.response)
			.allMatch(Objects::isNull);
	}

	/**
	 * @param usualMethod how depths were obtained where the line says nothing else
	 */
	ScarMeasurement toMeasurement(@Nullable String usualMethod) {
		var method = (this.depthMethod != null) ? this.depthMethod : usualMethod;
		return new ScarMeasurement(DecimalText.value(this.lengthMm), DecimalText.value(this.widthMm),
				DecimalText.value(this.depthMm), (this.depthMm != null) ? constant(DepthMethod.class, method) : null,
				constant(DepthClass.class, this.depthClass), DecimalText.whole(this.severity),
				DecimalText.whole(this.response));
	}

	private static <E extends Enum<E>> @Nullable E constant(Class<E> type, @Nullable String word) {
		return (word != null) ? Enum.valueOf(type, word.toUpperCase(Locale.ROOT)) : null;
	}

}
