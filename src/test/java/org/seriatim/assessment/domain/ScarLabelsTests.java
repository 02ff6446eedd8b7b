package org.seriatim.assessment.domain;

import java.util.Arrays;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.seriatim.assessment.Region;

import static org.assertj.core.api.Assertions.assertThat;

class ScarLabelsTests {

	@Test
	void beginAtOne() {
		assertThat(ScarLabels.next(Region.CHEEK_MEDIAL_LEFT, List.of())).isEqualTo("CML1");
	}

	@Test
	void followTheLargestNumberOfTheRegion() {
		assertThat(ScarLabels.next(Region.CHEEK_MEDIAL_LEFT, List.of("CML2", "CML10", "CMR40", "CML", "CML3a")))
			.isEqualTo("CML11");
	}

	@Test
	void takeUpperAndLowerCaseForOne() {
		assertThat(ScarLabels.next(Region.CHIN, List.of("c7"))).isEqualTo("C8");
	}

	@Test
	void areDifferentForEachRegion() {
		assertThat(Arrays.stream(Region.values()).map((region) -> ScarLabels.next(region, List.of())))
			.doesNotHaveDuplicates()
			.hasSize(18);
	}

}
