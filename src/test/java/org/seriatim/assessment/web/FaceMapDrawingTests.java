package org.seriatim.assessment.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.FaceMark;
import org.seriatim.assessment.FaceSheet;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;

import static org.assertj.core.api.Assertions.assertThat;

class FaceMapDrawingTests {

	private final FaceMapDrawing drawing = new FaceMapDrawing();

	@Test
	void leavesAMarkWhereItIsWhenThereIsRoom() {
		var marks = this.drawing.marks(List.of(mark("A1", Region.CHIN, 0.5, 0.8), mark("A2", Region.NOSE, 0.5, 0.5)));
		assertThat(marks.list()).extracting((mark) -> mark.scar().label() + " " + mark.transform())
			.containsExactly("A2 translate(200.0 270.0) scale(1.0)", "A1 translate(200.0 432.0) scale(1.0)");
		assertThat(marks.list()).allSatisfy((mark) -> assertThat(mark.lead()).isEmpty());
	}

	@Test
	void coversNoMarkByAnotherHoweverCloseTheScarsLie() {
		var random = new Random(20261120);
		for (var count : List.of(2, 5, 12, 30, 60)) {
			var spacing = new MarkSpacing(28.8, 24, FaceSheet.WIDTH, FaceSheet.HEIGHT);
			var homes = new double[count][];
			for (var i = 0; i < count; i++) {
				homes[i] = new double[] { 130 + 16 * random.nextDouble(), 290 + 20 * random.nextDouble() };
			}
			assertThat(covered(spacing.spread(homes), spacing)).as(count + " marks").isZero();
		}
	}

	@Test
	void partsScarsThatAreRecordedAtTheSamePlace() {
		var spacing = new MarkSpacing(36, 42, FaceSheet.WIDTH, FaceSheet.HEIGHT);
		var places = spacing.spread(new double[][] { { 200, 200 }, { 200, 200 }, { 200, 200 } });
		assertThat(covered(places, spacing)).isZero();
	}

	@Test
	void keepsMarksOnTheSheet() {
		var spacing = new MarkSpacing(36, 42, FaceSheet.WIDTH, FaceSheet.HEIGHT);
		for (var place : spacing.spread(new double[][] { { 0, 0 }, { 1, 1 }, { 400, 540 }, { 399, 539 } })) {
			assertThat(place[0]).isBetween(18.0, 382.0);
			assertThat(place[1]).isBetween(21.0, 519.0);
		}
	}

	@Test
	void drawsTheSameScarsInTheSamePlaces() {
		var scars = new ArrayList<FaceMark>();
		for (var i = 0; i < 40; i++) {
			scars.add(mark("S" + i, Region.CHEEK_MEDIAL_LEFT, 0.66, 0.55));
		}
		assertThat(this.drawing.marks(scars).list()).isEqualTo(this.drawing.marks(scars).list());
		assertThat(this.drawing.marks(scars).crowded()).isTrue();
	}

	@Test
	void drawsAScarWithoutAPositionWithinItsRegionAndSaysSo() {
		var marks = this.drawing.marks(List.of(mark("A1", Region.FOREHEAD, null, null)));
		assertThat(marks.anyUnplaced()).isTrue();
		assertThat(marks.list()).singleElement()
			.satisfies((mark) -> assertThat(mark.variants()).contains("face-map__mark--unplaced"));
	}

	@ParameterizedTest
	@EnumSource(names = { "ICE_PICK", "BOXCAR", "ROLLING", "LINEAR", "FOLD" })
	void drawsADeeperScarDeeper(ScarType type) {
		assertThat(lowest(ScarGlyph.path(type, DepthClass.MINIMAL)))
			.isLessThan(lowest(ScarGlyph.path(type, DepthClass.SHALLOW)));
		assertThat(lowest(ScarGlyph.path(type, DepthClass.SHALLOW)))
			.isLessThan(lowest(ScarGlyph.path(type, DepthClass.DEEP)));
	}

	@Test
	void drawsEachTypeInAShapeOfItsOwn() {
		assertThat(List.of(ScarType.values())).extracting((type) -> ScarGlyph.path(type, DepthClass.DEEP))
			.doesNotHaveDuplicates();
	}

	@Test
	void givesEachJudgedResponseASignOfItsOwn() {
		var marks = this.drawing.marks(List.of("resolved", "better", "same", "worse", "unknown")
			.stream()
			.map((word) -> new FaceMark(word, Region.CHIN, ScarType.BOXCAR, null, 0.5, 0.8, word, "", "#" + word))
			.toList());
		assertThat(marks.responses()).extracting("word")
			.containsExactly("resolved", "better", "same", "worse", "unknown");
		assertThat(marks.responses()).extracting("cue").doesNotHaveDuplicates();
	}

	private static FaceMark mark(String label, Region region, Double x, Double y) {
		return new FaceMark(label, region, ScarType.BOXCAR, DepthClass.SHALLOW, x, y, "same", "", "#" + label);
	}

	private static int covered(double[][] places, MarkSpacing spacing) {
		var covered = 0;
		for (var i = 0; i < places.length; i++) {
			for (var j = i + 1; j < places.length; j++) {
				if (Math.abs(places[i][0] - places[j][0]) < spacing.width() - 1
						&& Math.abs(places[i][1] - places[j][1]) < spacing.height() - 1) {
					covered++;
				}
			}
		}
		return covered;
	}

	/* Depths are the numbers with decimals. */
	private static double lowest(String path) {
		var numbers = path.replaceAll("[A-Z]", " ").trim().split("\\s+");
		var lowest = 0.0;
		for (var number : numbers) {
			lowest = Math.max(lowest, number.contains(".") ? Double.parseDouble(number) : 0);
		}
		return lowest;
	}

}
