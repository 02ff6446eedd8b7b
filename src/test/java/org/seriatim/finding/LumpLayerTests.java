package org.seriatim.finding;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.SessionId;

import static org.assertj.core.api.Assertions.assertThat;

class LumpLayerTests {

	private static final ScarId SCAR = ScarId.next();

	@Test
	void isThatOfTheInjectionIntoTheSameScar() {
		var layer = LumpLayer.of(lump(Region.NOSE, SCAR),
				List.of(injection(Region.NOSE, SCAR, Layer.MID_DERMIS), injection(Region.NOSE, null, Layer.DEEP_DERMIS),
						injection(Region.NOSE, ScarId.next(), Layer.SUPERFICIAL_DERMIS)));

		assertThat(layer).contains(Layer.MID_DERMIS);
	}

	@Test
	void isThatOfTheInjectionsIntoTheRegionWithoutAScarForALumpWithoutOne() {
		var layer = LumpLayer.of(lump(Region.NOSE, null),
				List.of(injection(Region.NOSE, SCAR, Layer.MID_DERMIS), injection(Region.NOSE, null, Layer.DEEP_DERMIS),
						injection(Region.NOSE, null, Layer.DEEP_DERMIS),
						injection(Region.CHIN, null, Layer.SUPERFICIAL_DERMIS)));

		assertThat(layer).contains(Layer.DEEP_DERMIS);
	}

	@Test
	void isUnknownWithoutSuchAnInjection() {
		assertThat(LumpLayer.of(lump(Region.NOSE, SCAR), List.of(injection(Region.NOSE, null, Layer.MID_DERMIS))))
			.isEmpty();
	}

	@Test
	void isUnknownWhenLayersDifferOrOneIsNotRecorded() {
		assertThat(LumpLayer.of(lump(Region.NOSE, null), List.of(injection(Region.NOSE, null, Layer.MID_DERMIS),
				injection(Region.NOSE, null, Layer.DEEP_DERMIS))))
			.isEmpty();
		assertThat(LumpLayer.of(lump(Region.NOSE, null),
				List.of(injection(Region.NOSE, null, Layer.MID_DERMIS), injection(Region.NOSE, null, null))))
			.isEmpty();
	}

	private static FindingFacts lump(Region region, @Nullable ScarId scar) {
		return new FindingFacts(FindingId.next(), SessionId.next(), FindingKind.LUMP, region, scar, null,
				LocalDate.of(2026, 1, 1), 1, false, null, null, List.of());
	}

	private static InjectionFacts injection(Region region, @Nullable ScarId scar, @Nullable Layer layer) {
		return new InjectionFacts(region, scar, layer, 2, 0.04, null);
	}

}
