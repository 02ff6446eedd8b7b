package org.seriatim.assessment.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.function.Function;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.domain.Dated;
import org.seriatim.assessment.domain.EarlierScar;
import org.seriatim.assessment.domain.ScarMeasurement;
import org.seriatim.shell.Written;

/**
 * What the form of a visit shows beside the fields of one scar. Of a value that is older
 * than the scar's last assessment the day stands with it.
 *
 * @param hollow whether it has a depth that could be measured
 * @param lastOn the day of its last assessment
 * @param depthMethod word of the method of the last depth
 * @param depthClass word of the last class
 */
record ScarLine(ScarId id, String label, String region, String type, boolean hollow, @Nullable String lastOn,
		@Nullable String length, @Nullable String width, @Nullable String depth, @Nullable String depthMethod,
		@Nullable String depthClass, @Nullable String severity, @Nullable String response) {

	/**
	 * @param earlier nothing for a scar that was never assessed, and while somebody rates
	 * blindly
	 */
	static ScarLine of(TrackedScar scar, @Nullable EarlierScar earlier) {
		var hollow = ScarMeasurement.isHollow(scar.type());
		if (earlier == null) {
			return new ScarLine(scar.id(), scar.label(), scar.region().word(), scar.type().word(), hollow, null, null,
					null, null, null, null, null, null);
		}
		var last = earlier.lastOn();
		return new ScarLine(scar.id(), scar.label(), scar.region().word(), scar.type().word(), hollow,
				Written.day(last), written(earlier.lengthMm(), last, BigDecimal::toPlainString),
				written(earlier.widthMm(), last, BigDecimal::toPlainString),
				written(earlier.depthMm(), last, BigDecimal::toPlainString),
				(earlier.depthMethod() != null) ? earlier.depthMethod().value().word() : null,
				(earlier.depthClass() != null) ? earlier.depthClass().value().word() : null,
				written(earlier.severity(), last, ScarLine::whole), written(earlier.response(), last, ScarLine::whole));
	}

	static String whole(Integer value) {
		return Written.number(value, 0);
	}

	static <T> @Nullable String written(@Nullable Dated<T> dated, @Nullable LocalDate expected,
			Function<T, String> text) {
		if (dated == null) {
			return null;
		}
		var value = text.apply(dated.value());
		return dated.day().equals(expected) ? value : value + " (" + Written.day(dated.day()) + ")";
	}

}
