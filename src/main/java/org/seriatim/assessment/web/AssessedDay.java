package org.seriatim.assessment.web;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.Ecca;
import org.seriatim.assessment.FaceCount;
import org.seriatim.assessment.GlobalScale;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.domain.AssessedDays.CountReading;
import org.seriatim.assessment.domain.AssessedDays.PoreReading;
import org.seriatim.assessment.domain.AssessedDays.ScaleReading;
import org.seriatim.assessment.domain.AssessedDays.ScarReading;
import org.seriatim.shell.Written;

/**
 * What one assessor entered of one day, as it is read.
 *
 * @param countTypes the types of which anything was counted, the columns of the counts
 */
record AssessedDay(StaffId assessor, String name, List<ScarEntry> scars, List<ScarEntry> repeats, List<PoreEntry> pores,
		List<ScaleEntry> scales, List<String> countTypes, List<CountLine> counts, @Nullable EccaEntry ecca) {

	/**
	 * One rating of a scar.
	 *
	 * @param warnings words of what is unusual in it
	 */
	record ScarEntry(UUID id, boolean corrected, String label, String region, String type, @Nullable String length,
			@Nullable String width, @Nullable String depth, @Nullable String depthMethod, @Nullable String depthClass,
			@Nullable Integer severity, @Nullable Integer response, List<String> warnings) {

		static ScarEntry of(ScarReading reading) {
			var measured = reading.measured();
			return new ScarEntry(reading.id(), reading.versions() > 0, reading.label(), reading.region().word(),
					reading.type().word(), text(measured.lengthMm(), (mm) -> mm.toPlainString()),
					text(measured.widthMm(), (mm) -> mm.toPlainString()),
					text(measured.depthMm(), (mm) -> mm.toPlainString()),
					text(measured.depthMethod(), (method) -> method.word()),
					text(measured.depthClass(), (depthClass) -> depthClass.word()), measured.severity(),
					measured.response(),
					measured.warnings(reading.type()).stream().map((warning) -> word(warning)).toList());
		}

	}

	/** The pores of one region. */
	record PoreEntry(UUID id, boolean corrected, String region, @Nullable Integer grade, @Nullable String density,
			boolean unusual) {

		static PoreEntry of(PoreReading reading) {
			return new PoreEntry(reading.id(), reading.versions() > 0, reading.region().word(),
					reading.finding().grade(), text(reading.finding().poresPerCm2(), (pores) -> pores.toPlainString()),
					reading.finding().isUnusuallyDense());
		}

	}

	/**
	 * One number of a scale.
	 *
	 * @param level message key of its level, where the scale's levels have names
	 */
	record ScaleEntry(UUID id, boolean corrected, String scale, String item, String value, @Nullable String level) {

		static ScaleEntry of(ScaleReading reading) {
			var value = reading.value().stripTrailingZeros();
			var named = GlobalScale.ofWord(reading.scale())
				.filter((scale) -> scale != GlobalScale.GOODMAN_BARON_QUANTITATIVE && scale != GlobalScale.SATISFACTION)
				.isPresent() && value.scale() <= 0;
			return new ScaleEntry(reading.id(), reading.versions() > 0, reading.scale(), reading.item(),
					Written.number(value, Math.max(0, value.scale())),
					named ? "scale." + reading.scale() + ".level." + value.toPlainString() : null);
		}

	}

	/** The counts of one region, in the order of the columns. */
	record CountLine(String region, List<Optional<CountCellEntry>> cells) {
	}

	/** One count. */
	record CountCellEntry(UUID id, boolean corrected, int count) {
	}

	/**
	 * The score of the counts.
	 *
	 * @param total nothing while cells are missing
	 */
	record EccaEntry(int missing, @Nullable Integer total, @Nullable Integer atrophic, @Nullable Integer raised) {

		static EccaEntry of(FaceCount count) {
			var score = count.ecca();
			return new EccaEntry(count.missing(), score.map(Ecca::total).orElse(null),
					score.map(Ecca::atrophic).orElse(null), score.map(Ecca::raised).orElse(null));
		}

	}

	static AssessedDay of(StaffId assessor, String name, List<ScarReading> scars, List<PoreReading> pores,
			List<ScaleReading> scales, List<CountReading> counts, @Nullable FaceCount faceCount) {
		var own = scars.stream().filter((reading) -> reading.assessor().equals(assessor)).toList();
		var types = Arrays.stream(CountedType.values())
			.filter((type) -> counts.stream().anyMatch((reading) -> isOf(reading, assessor, type)))
			.toList();
		return new AssessedDay(assessor, name,
				own.stream().filter((reading) -> !reading.repeat()).map(ScarEntry::of).toList(),
				own.stream().filter(ScarReading::repeat).map(ScarEntry::of).toList(),
				pores.stream()
					.filter((reading) -> reading.assessor().equals(assessor))
					.sorted(Comparator.comparing(PoreReading::region))
					.map(PoreEntry::of)
					.toList(),
				scales.stream().filter((reading) -> reading.assessor().equals(assessor)).map(ScaleEntry::of).toList(),
				types.stream().map(CountedType::word).toList(), countLines(assessor, counts, types),
				(faceCount != null) ? EccaEntry.of(faceCount) : null);
	}

	private static List<CountLine> countLines(StaffId assessor, List<CountReading> counts, List<CountedType> types) {
		var byRegion = new EnumMap<Region, Map<CountedType, CountReading>>(Region.class);
		counts.stream()
			.filter((reading) -> reading.assessor().equals(assessor))
			.forEach((reading) -> byRegion
				.computeIfAbsent(reading.region(), (ignored) -> new EnumMap<>(CountedType.class))
				.put(reading.type(), reading));
		var lines = new ArrayList<CountLine>();
		byRegion.forEach((region,
				ofTypes) -> lines.add(new CountLine(region.word(), types.stream()
					.map((type) -> Optional.ofNullable(ofTypes.get(type))
						.map((reading) -> new CountCellEntry(reading.id(), reading.versions() > 0, reading.count())))
					.toList())));
		return lines;
	}

	private static boolean isOf(CountReading reading, StaffId assessor, CountedType type) {
		return reading.assessor().equals(assessor) && reading.type() == type;
	}

	/** Whether the assessor entered anything but counts. */
	public boolean hasVisit() {
		return Stream.of(this.scars, this.pores, this.scales).anyMatch((entries) -> !entries.isEmpty());
	}

	private static <T> @Nullable String text(@Nullable T value, Function<T, String> written) {
		return (value != null) ? written.apply(value) : null;
	}

	private static String word(Enum<?> constant) {
		return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

}
