package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.shell.Written;
import org.seriatim.treatment.LidocaineLimit;
import org.seriatim.treatment.PointPlan;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.VolumeBalance;
import org.seriatim.treatment.domain.SessionReview;
import org.seriatim.treatment.domain.SessionReview.Kind;
import org.seriatim.treatment.domain.SessionReview.PreparationReview;
import org.seriatim.treatment.domain.SessionReview.Remark;
import org.seriatim.treatment.domain.UsualPractice.Unusual;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** Words a review. */
@Component
class ReviewWording {

	private static final int PERCENT = 100;

	private static final String UNKNOWN = "–";

	private final MessageSource messages;

	private final UsualWording usual;

	ReviewWording(MessageSource messages, UsualWording usual) {
		this.messages = messages;
		this.usual = usual;
	}

	ReviewPage page(SessionReview review, List<Unusual> unusual, Locale locale) {
		return new ReviewPage(review.preparations().stream().map((reviewed) -> balance(reviewed, locale)).toList(),
				review.areas().stream().map((area) -> area(area, locale)).toList(), total(review, locale),
				topical(review.topical(), locale), lidocaine(review.lidocaine(), locale),
				notes(review.lidocaine(), locale),
				texts(review.cautions().stream().filter((remark) -> remark.kind() != Kind.REGION_WITH_VESSELS), locale),
				texts(review.dataQuality().stream(), locale),
				unusual.stream().map((one) -> unusual(one, locale)).toList(),
				review.cautions()
					.stream()
					.filter((remark) -> remark.kind() == Kind.REGION_WITH_VESSELS)
					.map((remark) -> text(remark, locale))
					.findFirst()
					.orElse(null));
	}

	private ReviewPage.Balance balance(PreparationReview reviewed, Locale locale) {
		var preparation = reviewed.preparation();
		var name = say(locale, "treatment.review.preparation", preparation.number(), preparation.product());
		var mixture = mixture(reviewed, locale);
		var left = left(reviewed, locale);
		if (reviewed.balance().isEmpty()) {
			return new ReviewPage.Balance(name, "unknown", say(locale, "treatment.review.balance.unknown"),
					say(locale, "treatment.review.balance.missing", missing(preparation, locale)), mixture, left);
		}
		var balance = reviewed.balance().get();
		return new ReviewPage.Balance(
				name, balance.addsUp() ? "done" : "caution", say(locale, balance.addsUp()
						? "treatment.review.balance.adds-up" : "treatment.review.balance.does-not-add-up"),
				figures(balance, locale), mixture, left);
	}

	private String left(PreparationReview reviewed, Locale locale) {
		var handling = reviewed.preparation().handling();
		var parts = new ArrayList<String>();
		reviewed.leftInSyringesMl()
			.ifPresent((left) -> parts.add((handling.syringes() != null)
					? say(locale, "treatment.review.left.syringes-of", ml(left), handling.syringes())
					: say(locale, "treatment.review.left.syringes", ml(left))));
		reviewed.preparation()
			.leftInVialMl()
			.ifPresent((left) -> parts
				.add(say(locale, "treatment.review.left.vial", ml(left), say(locale, (handling.vialFate() != null)
						? "vial-fate." + handling.vialFate().word() : "treatment.review.left.fate-unknown"))));
		handling.waited()
			.filter((time) -> !time.isNegative())
			.ifPresent((time) -> parts.add(say(locale, "treatment.review.left.waited", time.toHours(),
					String.format(Locale.ROOT, "%02d", time.toMinutesPart()))));
		return String.join(" ", parts);
	}

	private ReviewPage.AreaLine area(SessionReview.Area area, Locale locale) {
		var name = region(area.region(), locale);
		var volume = volume(area, locale);
		var planned = area.planned().map((plan) -> planned(plan, locale)).orElse(UNKNOWN);
		return new ReviewPage.AreaLine(area.region().word(), name, String.valueOf(area.entries()),
				(area.points() > 0) ? String.valueOf(area.points()) : UNKNOWN, volume, planned,
				say(locale, "treatment.review.area", name, area.points(), volume));
	}

	private String planned(PointPlan plan, Locale locale) {
		return plan.volume()
			.map((volume) -> say(locale, "treatment.review.planned", plan.points(), ml(volume)))
			.orElseGet(() -> say(locale, "treatment.review.planned.points", plan.points()));
	}

	private String volume(SessionReview.Area area, Locale locale) {
		return area.complete() ? ml(area.volumeMl())
				: say(locale, "treatment.review.volume.incomplete", ml(area.volumeMl()));
	}

	private String total(SessionReview review, Locale locale) {
		var all = review.total();
		var prepared = review.preparations().stream().map((one) -> one.preparation().totalMl()).toList();
		if (prepared.isEmpty() || prepared.stream().anyMatch(Optional::isEmpty)) {
			return say(locale, "treatment.review.total", all.points(), volume(all, locale));
		}
		var ml = prepared.stream().map(Optional::orElseThrow).reduce(BigDecimal.ZERO, BigDecimal::add);
		return say(locale, "treatment.review.total.of", all.points(), volume(all, locale), ml(ml));
	}

	private List<String> topical(SessionReview.Topical topical, Locale locale) {
		var lines = new ArrayList<String>();
		var cream = topical.cream();
		topical.fraction()
			.ifPresent((share) -> lines.add(say(locale, "treatment.review.topical", percent(share),
					cream.lidocaineMg().map(ReviewWording::figure).orElse(UNKNOWN))));
		topical.together().ifPresent((sum) -> lines.add(say(locale, "treatment.review.together", percent(sum))));
		return lines;
	}

	private static String percent(BigDecimal share) {
		return share.multiply(BigDecimal.valueOf(PERCENT)).setScale(0, RoundingMode.HALF_UP).toPlainString();
	}

	private String figures(VolumeBalance balance, Locale locale) {
		return say(locale, "treatment.review.balance.figures", ml(balance.preparedMl()), ml(balance.injectedMl()),
				ml(balance.discardedMl()), ml(balance.differenceMl()));
	}

	private String missing(RecordedPreparation preparation, Locale locale) {
		var missing = new ArrayList<String>();
		if (preparation.stockDrawnMl() == null) {
			missing.add("stock-drawn");
		}
		if (preparation.addedDiluentMl() == null) {
			missing.add("added-diluent");
		}
		if (preparation.lidocaineMl() == null) {
			missing.add("lidocaine");
		}
		if (preparation.discardedMl() == null) {
			missing.add("discarded");
		}
		if (missing.isEmpty()) {
			missing.add("injections");
		}
		return missing.stream()
			.map((what) -> say(locale, "treatment.review.missing." + what))
			.collect(Collectors.joining(", "));
	}

	private String mixture(PreparationReview reviewed, Locale locale) {
		return reviewed.mixture()
			.map((mixture) -> say(locale, "treatment.review.mixture", ml(mixture.totalMl()),
					figure(mixture.substanceMgPerMl()), figure(mixture.lidocaineMgPerMl()),
					figure(mixture.substanceMgIn(reviewed.injectedMl()))) + hyaluronic(reviewed, locale))
			.orElseGet(() -> say(locale, "treatment.review.mixture.unknown"));
	}

	private String hyaluronic(PreparationReview reviewed, Locale locale) {
		return reviewed.preparation()
			.hyaluronicMixture()
			.map((mixture) -> " " + say(locale, "treatment.review.hyaluronic", figure(mixture.substanceMgPerMl()),
					figure(mixture.substanceMgIn(reviewed.injectedMl()))))
			.orElse("");
	}

	private String lidocaine(SessionReview.Lidocaine lidocaine, Locale locale) {
		if (lidocaine.givenMg().isEmpty()) {
			return say(locale, "treatment.review.lidocaine.unknown");
		}
		var given = figure(lidocaine.givenMg().get());
		if (lidocaine.limit() instanceof LidocaineLimit.Known known) {
			return say(locale, "treatment.review.lidocaine", given, figure(known.limitMg()),
					percent(lidocaine.fraction().orElseThrow()));
		}
		return say(locale, "treatment.review.lidocaine.without-limit", given);
	}

	private List<String> notes(SessionReview.Lidocaine lidocaine, Locale locale) {
		if (lidocaine.limit() instanceof LidocaineLimit.Unknown unknown) {
			return List.of(say(locale,
					"treatment.review.limit." + unknown.missing().name().toLowerCase(Locale.ROOT).replace('_', '-'),
					LidocaineLimit.WEIGHT_HOLDS_DAYS));
		}
		var notes = new ArrayList<String>();
		notes
			.add(say(locale, "treatment.review.limit.basis", figure(lidocaine.weightKg()), day(lidocaine.weighedOn())));
		if (lidocaine.limit() instanceof LidocaineLimit.Known known && known.elderly()) {
			notes.add(say(locale, "treatment.review.limit.elderly", LidocaineLimit.ELDERLY_FROM_YEARS));
		}
		return notes;
	}

	private List<String> texts(Stream<Remark> remarks, Locale locale) {
		return remarks.map((remark) -> text(remark, locale)).toList();
	}

	private String text(Remark remark, Locale locale) {
		var evidence = remark.evidence();
		return switch (remark.kind()) {
			case LOT_EXPIRED -> say(locale, "treatment.remark.lot-expired", remark.part(), day(evidence.get(0)));
			case BELOW_DERMIS ->
				say(locale, "treatment.remark.below-dermis", remark.part(), region(evidence.get(0), locale));
			case NO_BLANCHING_OVER_VESSELS ->
				say(locale, "treatment.remark.no-blanching", remark.part(), region(evidence.get(0), locale));
			case TOPICAL_TOO_MUCH ->
				say(locale, "treatment.remark.topical-grams", evidence.get(0).toString(), evidence.get(1));
			case TOPICAL_TOO_WIDE ->
				say(locale, "treatment.remark.topical-area", evidence.get(0).toString(), evidence.get(1));
			case TOPICAL_WIDE -> say(locale, "treatment.remark.topical-wide", evidence.get(0).toString());
			case ANAESTHETICS_TOGETHER ->
				say(locale, "treatment.remark.together", percent((BigDecimal) evidence.get(0)));
			case LUMP_FELT -> say(locale, "treatment.remark.lump-felt",
					evidence.stream()
						.map((side) -> say(locale, "side." + ((Enum<?>) side).name().toLowerCase(Locale.ROOT)))
						.collect(Collectors.joining(", ")));
			case REGION_WITH_VESSELS -> say(locale, "treatment.remark.vessels",
					evidence.stream().map((region) -> region(region, locale)).collect(Collectors.joining(", ")));
			case LIDOCAINE_ABOVE_LIMIT -> say(locale, "treatment.remark.lidocaine");
			case TOPICAL_TOO_LONG -> say(locale, "treatment.remark.topical", evidence.get(0), evidence.get(1));
			case VOLUME_DOES_NOT_ADD_UP -> say(locale, "treatment.remark.volume", remark.part(), ml(evidence.get(0)),
					ml(evidence.get(1)), ml(evidence.get(2)), ml(evidence.get(3)));
			case STOCK_BELOW_ZERO ->
				say(locale, "treatment.remark.stock-below-zero", remark.part(), ml(evidence.get(0)));
			case SCAR_IN_ANOTHER_REGION -> say(locale, "treatment.remark.scar-region", remark.part(), evidence.get(0),
					region(evidence.get(1), locale), region(evidence.get(2), locale));
		};
	}

	private String unusual(Unusual found, Locale locale) {
		var measure = found.measure();
		return say(locale, "treatment.usual.outside", about(found, locale),
				say(locale, "usual-measure." + measure.word()), UsualWording.figure(found.value(), measure),
				this.usual.range(found.range(), measure, locale));
	}

	private String about(Unusual found, Locale locale) {
		return switch (found.measure()) {
			case TOPICAL_MINUTES, WHOLE_FACE_ML -> say(locale, "treatment.usual.about.session");
			case DILUENT_ML -> say(locale, "history.preparation", found.part());
			case CHEEK_SIDE_ML -> say(locale, (found.region() == Region.CHEEK_MEDIAL_LEFT)
					? "treatment.usual.about.left-cheek" : "treatment.usual.about.right-cheek");
			case AREA_ML -> region(Objects.requireNonNull(found.region()), locale);
			case POINT_ML, SCAR_POINTS, SPACING_MM, NEEDLE_GAUGE, NEEDLE_MM, ANGLE_DEGREES ->
				say(locale, "history.injection", found.part());
		};
	}

	private String region(Object region, Locale locale) {
		return say(locale, "region." + ((Region) region).word());
	}

	private static String day(@Nullable Object day) {
		return (day instanceof LocalDate date) ? Written.day(date) : "–";
	}

	/** Volumes are written to the hundredth, the last digit of a syringe. */
	private static String ml(Object volume) {
		return Written.number((BigDecimal) volume, 2);
	}

	private static String figure(@Nullable BigDecimal value) {
		return (value != null) ? Written.number(value, 1) : "–";
	}

	private String say(Locale locale, String key, @Nullable Object... arguments) {
		return this.messages.getMessage(key, arguments, locale);
	}

}
