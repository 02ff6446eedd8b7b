package org.seriatim.photograph.domain;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.View;
import org.seriatim.photograph.domain.Comparability.Difference;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A pair can be compared only with the same view, light and camera (common practice, no
 * source).
 */
class ComparabilityTests {

	private static final Recorded NOW = new Recorded(Instant.EPOCH, null, null);

	private static PhotographDetails front(LightSet light, @Nullable String camera) {
		return new PhotographDetails(LocalDate.EPOCH, null, View.FRONT, null, null, null, light, camera, 120, false,
				null, null);
	}

	private static PhotographDetails close(Region region, @Nullable Integer yaw, @Nullable Integer distance,
			boolean mirrored, @Nullable Boolean ok) {
		return new PhotographDetails(LocalDate.EPOCH, null, View.CLOSE, yaw, region, null, LightSet.RAKING, "macro",
				distance, mirrored, ok, Boolean.FALSE.equals(ok) ? "blurred" : null);
	}

	private static Photograph photograph(PhotographDetails details) {
		return new Photograph(PhotographId.next(), new PatientId(java.util.UUID.randomUUID()), details,
				new Picture(new byte[1], new byte[1], 4000, 3000, new byte[32], new byte[32], null, null), NOW);
	}

	private static Set<Difference> differences(PhotographDetails one, PhotographDetails other) {
		return Comparability.of(photograph(one), photograph(other)).differences();
	}

	@Test
	void theSameViewLightAndCameraCanBeCompared() {
		var pair = Comparability.of(photograph(front(LightSet.FLAT, "A")), photograph(front(LightSet.FLAT, "A")));
		assertThat(pair.differences()).isEmpty();
		assertThat(pair.isGiven()).isTrue();
	}

	@Test
	void anotherLightCameraViewOrPlaceForbidsAnyConclusion() {
		var flat = front(LightSet.FLAT, "A");
		assertThat(differences(flat, front(LightSet.RAKING, "A"))).containsExactly(Difference.LIGHT_SET);
		assertThat(differences(flat, front(LightSet.FLAT, "B"))).containsExactly(Difference.CAMERA);
		assertThat(differences(flat, front(LightSet.FLAT, null))).containsExactly(Difference.CAMERA_UNKNOWN);
		assertThat(differences(close(Region.CHIN, null, 30, false, null), close(Region.NOSE, null, 30, false, null)))
			.containsExactly(Difference.VIEW);
		assertThat(differences(close(Region.CHIN, null, 30, false, null), close(Region.CHIN, null, 30, true, null)))
			.containsExactly(Difference.MIRRORED);
		assertThat(EnumSet.of(Difference.LIGHT_SET, Difference.CAMERA, Difference.CAMERA_UNKNOWN, Difference.VIEW,
				Difference.MIRRORED))
			.allMatch(Difference::prevents);
	}

	@Test
	void saysWhatElseDiffersWithoutForbidding() {
		var chin = close(Region.CHIN, 20, 30, false, true);
		assertThat(differences(chin, close(Region.CHIN, 30, 33, false, true))).isEmpty();
		assertThat(differences(chin, close(Region.CHIN, 31, 30, false, true))).containsExactly(Difference.TURN);
		assertThat(differences(chin, close(Region.CHIN, 20, 34, false, true))).containsExactly(Difference.DISTANCE);
		assertThat(differences(chin, close(Region.CHIN, 20, 30, false, false))).containsExactly(Difference.QUALITY);
		assertThat(EnumSet.of(Difference.TURN, Difference.DISTANCE, Difference.QUALITY, Difference.SIZE))
			.noneMatch(Difference::prevents);
	}

	/** Eyes 1000 pixels apart in one and 1200 in the other: a fifth larger. */
	@Test
	void tellsByTheLandmarksThatOneWasTakenFromNearer() {
		var one = photograph(front(LightSet.FLAT, "A"));
		var other = photograph(front(LightSet.FLAT, "A"));
		one.mark(landmarks("0.375", "0.625"), NOW);
		assertThat(Comparability.of(one, other).differences()).isEmpty();
		other.mark(landmarks("0.375", "0.625"), NOW);
		assertThat(Comparability.of(one, other).differences()).isEmpty();
		other.mark(landmarks("0.350", "0.650"), NOW);
		assertThat(Comparability.of(one, other).differences()).containsExactly(Difference.SIZE);
		assertThat(Comparability.of(one, other).isGiven()).isTrue();
	}

	private static Landmarks landmarks(String firstX, String secondX) {
		return new Landmarks(new BigDecimal(firstX), new BigDecimal("0.4"), new BigDecimal(secondX),
				new BigDecimal("0.4"));
	}

}
