package org.seriatim.assessment.web;

import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.FaceMark;
import org.seriatim.assessment.FaceSheet;
import org.seriatim.assessment.MapPoint;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;
import org.seriatim.assessment.TrackedScar;
import org.springframework.stereotype.Component;

/** The geometry of the face map for its template, on the {@link FaceSheet}. */
@Component("faceMapDrawing")
class FaceMapDrawing {

	/* Marks from here on carry their label only when one points at them. */
	private static final int CROWDED = 28;

	/*
	 * A mark that lies farther than this from where it belongs is tied to it by a line.
	 */
	private static final double LEAD = 14;

	private static final List<String> OUTLINES = Arrays.stream(Region.values()).map(FaceSheet::outline).toList();

	/** The outlines of the regions, as paths of an SVG. */
	public List<String> regions() {
		return OUTLINES;
	}

	/** The outline of one region, as a path of an SVG. */
	String outline(Region region) {
		return OUTLINES.get(region.ordinal());
	}

	/** Where a scar that is on the map lies on the sheet. */
	Place place(TrackedScar scar) {
		var x = Objects.requireNonNull(scar.x());
		var y = Objects.requireNonNull(scar.y());
		return new Place(scar.label(), FaceSheet.across(x.doubleValue()), FaceSheet.down(y.doubleValue()));
	}

	/** A scar's label and its place on the sheet. */
	record Place(String label, String x, String y) {
	}

	/**
	 * Transforms that draw one half of the face, and the other as its mirror image.
	 */
	public List<String> sides() {
		return List.of("translate(0 0)", "translate(%.0f 0) scale(-1 1)".formatted(FaceSheet.WIDTH));
	}

	/** The marks in the order of the regions, none covering another. */
	public Marks marks(List<FaceMark> scars) {
		var ordered = scars.stream()
			.sorted(Comparator.comparing(FaceMark::region).thenComparing(FaceMark::label))
			.toList();
		var crowded = ordered.size() >= CROWDED;
		var homes = ordered.stream().map(FaceMapDrawing::home).toArray(double[][]::new);
		var scale = crowded ? 0.8 : 1;
		var places = new MarkSpacing(scale * 36, scale * (crowded ? 30 : 42), FaceSheet.WIDTH, FaceSheet.HEIGHT)
			.spread(homes);
		var marks = IntStream.range(0, places.length)
			.mapToObj((i) -> mark(ordered.get(i), homes[i], places[i], scale))
			.toList();
		var types = ordered.stream()
			.map(FaceMark::type)
			.collect(Collectors.toCollection(() -> EnumSet.noneOf(ScarType.class)));
		var responses = ordered.stream().map(FaceMark::responseWord).collect(Collectors.toSet());
		return new Marks(marks, crowded, types.stream().map(FaceMapDrawing::legend).toList(),
				List.of("resolved", "better", "same", "worse", "unknown")
					.stream()
					.filter(responses::contains)
					.map((word) -> new ResponseEntry(word, cue(word)))
					.toList(),
				ordered.stream().anyMatch((scar) -> ScarGlyph.hasDepth(scar.type()) && scar.depthClass() == null),
				!ordered.stream().allMatch(FaceMark::isPlaced));
	}

	private static double[] home(FaceMark scar) {
		var place = (scar.x() != null && scar.y() != null) ? new MapPoint(scar.x(), scar.y())
				: FaceMap.centre(scar.region());
		return new double[] { FaceSheet.WIDTH * place.x(), FaceSheet.HEIGHT * place.y() };
	}

	private static Mark mark(FaceMark scar, double[] home, double[] place, double scale) {
		var lead = scar.isPlaced() && Math.hypot(place[0] - home[0], place[1] - home[1]) > LEAD;
		return new Mark(scar,
				"translate(%s %s) scale(%s)".formatted(FaceSheet.number(place[0]), FaceSheet.number(place[1]),
						FaceSheet.number(scale)),
				ScarGlyph.path(scar.type(), scar.depthClass()),
				ScarGlyph.hasDepth(scar.type()) && scar.depthClass() == null,
				lead ? "M%s %sL%s %s".formatted(FaceSheet.number(home[0]), FaceSheet.number(home[1]),
						FaceSheet.number(place[0]), FaceSheet.number(place[1])) : "",
				FaceSheet.number(home[0]), FaceSheet.number(home[1]));
	}

	/*
	 * The sign beside a mark: an arrow up where the base of the scar has risen, down
	 * where it sank, a pair of lines where nothing changed, a tick where it is gone.
	 */
	private static @Nullable String cue(String responseWord) {
		return switch (responseWord) {
			case "better" -> "M10 -3V-10M7 -7L10 -10L13 -7";
			case "worse" -> "M10 -10V-3M7 -6L10 -3L13 -6";
			case "same" -> "M7 -8.5H13M7 -5.5H13";
			case "resolved" -> "M6.5 -6.5L9 -4L13.5 -9.5";
			default -> null;
		};
	}

	private static String variant(String word) {
		return " face-map__mark--" + word;
	}

	private static LegendEntry legend(ScarType type) {
		return new LegendEntry(type, ScarGlyph.path(type, DepthClass.SHALLOW));
	}

	/**
	 * What the map shows.
	 *
	 * @param list the marks
	 * @param crowded whether there are so many that labels show only when pointed at
	 * @param types the types that occur, for the legend
	 * @param responses the responses that occur, for the legend
	 * @param anyDepthUnknown whether a mark has a broken line
	 * @param anyUnplaced whether a scar has no position of its own
	 */
	record Marks(List<Mark> list, boolean crowded, List<LegendEntry> types, List<ResponseEntry> responses,
			boolean anyDepthUnknown, boolean anyUnplaced) {
	}

	/**
	 * One mark.
	 *
	 * @param scar what it stands for
	 * @param transform where it is drawn
	 * @param path its cross-section
	 * @param depthUnknown whether its depth was never recorded
	 * @param lead line from where it belongs to where it is drawn, empty if that is the
	 * same
	 * @param homeX where it belongs
	 * @param homeY where it belongs
	 */
	record Mark(FaceMark scar, String transform, String path, boolean depthUnknown, String lead, String homeX,
			String homeY) {

		/** Message word of the region. */
		public String region() {
			return this.scar.region().word();
		}

		/** Message word of the type. */
		public String type() {
			return this.scar.type().word();
		}

		/** Message word of the depth class, if one is known. */
		public @Nullable String depth() {
			return (this.scar.depthClass() != null) ? this.scar.depthClass().word() : null;
		}

		/** Classes of the mark: its response, its type, whether it has its own place. */
		public String variants() {
			return variant(this.scar.responseWord()) + variant(type())
					+ (this.scar.isPlaced() ? "" : variant("unplaced"));
		}

		/** Class of the cross-section. */
		public String glyph() {
			return this.depthUnknown ? "face-map__glyph--unknown" : "";
		}

		/** The sign of its response, if there is one. */
		public @Nullable String cue() {
			return FaceMapDrawing.cue(this.scar.responseWord());
		}

	}

	/**
	 * One entry of the legend.
	 *
	 * @param type a type of scar
	 * @param path its cross-section
	 */
	record LegendEntry(ScarType type, String path) {

		/** Message word of the type. */
		public String word() {
			return this.type.word();
		}

		/** Class of the sample. */
		public String variants() {
			return variant(word());
		}

	}

	/**
	 * One response of the legend.
	 *
	 * @param word the response
	 * @param cue its sign, if there is one
	 */
	record ResponseEntry(String word, @Nullable String cue) {

		/** Class of the sample. */
		public String variants() {
			return variant(this.word);
		}

	}

}
