package org.seriatim.assessment;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

import static org.assertj.core.api.Assertions.assertThat;

class FaceMapTests {

	@Test
	void holdsEveryMarkOfTheSampleClinicInItsRegion() throws Exception {
		var marked = sampleScars().stream().filter((scar) -> !scar.get("map_x").isEmpty()).toList();
		assertThat(marked).hasSize(1175);
		assertThat(marked).filteredOn((scar) -> !liesInItsRegion(scar)).isEmpty();
	}

	private static List<CSVRecord> sampleScars() throws IOException {
		var format = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();
		try (var file = format.parse(Files.newBufferedReader(Path.of("src/test/resources/sample-clinic/scars.csv")))) {
			return file.getRecords();
		}
	}

	private static boolean liesInItsRegion(CSVRecord scar) {
		return FaceMap.contains(Region.valueOf(scar.get("region").toUpperCase(Locale.ROOT)),
				Double.parseDouble(scar.get("map_x")), Double.parseDouble(scar.get("map_y")));
	}

	@Test
	void putsThePatientsRightOnTheLeftAsOneFacesThePatient() {
		assertThat(FaceMap.centre(Region.CHEEK_MEDIAL_RIGHT).x()).isLessThan(0.5);
		assertThat(FaceMap.contains(Region.CHEEK_MEDIAL_RIGHT, 0.33, 0.55)).isTrue();
		assertThat(FaceMap.contains(Region.CHEEK_MEDIAL_LEFT, 0.33, 0.55)).isFalse();
		assertThat(FaceMap.contains(Region.CHEEK_MEDIAL_LEFT, 0.67, 0.55)).isTrue();
	}

	@ParameterizedTest
	@EnumSource
	void hasACentreInsideOfEachRegion(Region region) {
		var centre = FaceMap.centre(region);
		assertThat(FaceMap.contains(region, centre.x(), centre.y())).isTrue();
	}

	@ParameterizedTest
	@EnumSource
	void keepsEachRegionOnTheMap(Region region) {
		assertThat(FaceMap.outline(region).corners()).allSatisfy((corner) -> {
			assertThat(corner.x()).isBetween(0.0, 1.0);
			assertThat(corner.y()).isBetween(0.0, 1.0);
		});
	}

	@Test
	void givesNoPlaceToTwoRegionsAndLeavesNoGapBetweenThem() {
		for (var row = 38; row < 400; row++) { // above it there is no skin
			var y = (row + 0.37) / 400;
			var there = regionsOfRow(y);
			assertThat(there).as("at y = " + y).allSatisfy((regions) -> assertThat(regions).hasSizeLessThan(2));
			var first = firstOccupied(there);
			var last = there.size() - 1 - firstOccupied(reversed(there));
			assertThat(there.subList(first, last + 1)).as("between the edges of the face at y = " + y)
				.allSatisfy((regions) -> assertThat(regions).hasSize(1));
		}
	}

	@Test
	void mirrorsTheLeftSideExactly() {
		var right = FaceMap.outline(Region.JAWLINE_RIGHT).corners();
		var left = FaceMap.outline(Region.JAWLINE_LEFT).corners();
		assertThat(left).hasSameSizeAs(right);
		for (var i = 0; i < right.size(); i++) {
			assertThat(left.get(i)).isEqualTo(right.get(i).mirrored());
		}
	}

	@Test
	void countsThePointsOfTheBorderAsInside() {
		var square = new RegionOutline(Region.CHIN, List.of(new MapPoint(0.2, 0.2), new MapPoint(0.4, 0.2),
				new MapPoint(0.4, 0.4), new MapPoint(0.2, 0.4)));
		assertThat(square.contains(0.2, 0.3)).isTrue();
		assertThat(square.contains(0.4, 0.4)).isTrue();
		assertThat(square.contains(0.3, 0.3)).isTrue();
		assertThat(square.contains(0.41, 0.3)).isFalse();
		assertThat(square.contains(0.1, 0.2)).isFalse();
	}

	private static List<List<Region>> regionsOfRow(double y) {
		return IntStream.range(0, 200).mapToObj((column) -> {
			var x = (column + 0.41) / 200;
			return Arrays.stream(Region.values()).filter((region) -> FaceMap.contains(region, x, y)).toList();
		}).toList();
	}

	private static int firstOccupied(List<List<Region>> row) {
		for (var i = 0; i < row.size(); i++) {
			if (!row.get(i).isEmpty()) {
				return i;
			}
		}
		return row.size();
	}

	private static <T> List<T> reversed(List<T> list) {
		var reversed = new ArrayList<>(list);
		Collections.reverse(reversed);
		return reversed;
	}

}
