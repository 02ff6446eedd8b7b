package org.seriatim.assessment.web;

import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.CountedType;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.RowKey;

/**
 * The counts of one region in a form, one component for each type.
 *
 * @param region the region's word
 */
record CountRow(@RowKey @Nullable String region, @Decimal(min = "0", max = "999") @Nullable String icePick,
		@Decimal(min = "0", max = "999") @Nullable String boxcar,
		@Decimal(min = "0", max = "999") @Nullable String rolling,
		@Decimal(min = "0", max = "999") @Nullable String elastolysis,
		@Decimal(min = "0", max = "999") @Nullable String hypertrophic,
		@Decimal(min = "0", max = "999") @Nullable String keloid,
		@Decimal(min = "0", max = "999") @Nullable String linear,
		@Decimal(min = "0", max = "999") @Nullable String fold,
		@Decimal(min = "0", max = "999") @Nullable String macular,
		@Decimal(min = "0", max = "999") @Nullable String unclassified) {

	static CountRow from(String region, Map<CountedType, String> counts) {
		return new CountRow(region, counts.get(CountedType.ICE_PICK), counts.get(CountedType.BOXCAR),
				counts.get(CountedType.ROLLING), counts.get(CountedType.ELASTOLYSIS),
				counts.get(CountedType.HYPERTROPHIC), counts.get(CountedType.KELOID), counts.get(CountedType.LINEAR),
				counts.get(CountedType.FOLD), counts.get(CountedType.MACULAR), counts.get(CountedType.UNCLASSIFIED));
	}

	@Nullable String of(CountedType type) {
		return switch (type) {
			case ICE_PICK -> this.icePick;
			case BOXCAR -> this.boxcar;
			case ROLLING -> this.rolling;
			case ELASTOLYSIS -> this.elastolysis;
			case HYPERTROPHIC -> this.hypertrophic;
			case KELOID -> this.keloid;
			case LINEAR -> this.linear;
			case FOLD -> this.fold;
			case MACULAR -> this.macular;
			case UNCLASSIFIED -> this.unclassified;
		};
	}

	/** The component that a type has in this form. */
	static String component(CountedType type) {
		return (type == CountedType.ICE_PICK) ? "icePick" : type.word();
	}

}
