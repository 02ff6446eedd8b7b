package org.seriatim.record.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.FaceMark;
import org.seriatim.assessment.Repeatability;
import org.seriatim.assessment.ScarChange;
import org.seriatim.assessment.ScarState;
import org.seriatim.assessment.ScarType;
import org.seriatim.record.domain.ScarProgress;
import org.seriatim.record.domain.SeriesFigures;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.record.domain.Verdict;
import org.seriatim.shell.Written;

/**
 * The tracked scars: the face map, and the table that says the same.
 *
 * @param types the scars of each type together
 * @param baselineNote how and when most baselines were measured; rows name only what
 * differs
 * @param latestNote the same for the latest assessments
 * @param marks what the face map draws
 * @param error how measurement error is known, or what is missing
 * @param note how change is computed and what was left out
 */
record ScarTable(List<TypeRow> types, List<Row> rows, @Nullable String baselineNote, @Nullable String latestNote,
		List<FaceMark> marks, String error, String note) {

	/**
	 * A tracked scar.
	 *
	 * @param anchor the row's id
	 * @param href its form, for who may open it, else its versions
	 * @param photographs its close-ups, for who may see them
	 * @param baseline its depth, or its severity where no depth can be compared
	 * @param latestStage after which session it was last assessed; none for the last one
	 * @param change against the baseline, with its unit
	 * @param verdictKind kind of the status component
	 * @param leftOut since when and why it is left out of the figures; none where it is
	 * not
	 * @param trend its course over the stages; none with fewer than two values
	 * @param response the practitioner's own judgement
	 */
	record Row(String anchor, @Nullable String href, @Nullable String photographs, String label, String type,
			String region, String size, String depthClass, Cell baseline, Cell latest, @Nullable String latestStage,
			String change, @Nullable String verdictKind, @Nullable String verdict, @Nullable String leftOut,
			@Nullable Trend trend, String response) {

		Row with(Cell otherBaseline, Cell otherLatest) {
			return new Row(this.anchor, this.href, this.photographs, this.label, this.type, this.region, this.size,
					this.depthClass, otherBaseline, otherLatest, this.latestStage, this.change, this.verdictKind,
					this.verdict, this.leftOut, this.trend, this.response);
		}

	}

	/**
	 * The scars of one type: how many changed against the baseline, and by how much.
	 *
	 * @param mean mean improvement of the depth, and over how many scars
	 */
	record TypeRow(String type, int tracked, String mean, int resolved, int better, int withinError, int worse,
			int notJudged, int leftOut) {
	}

	/**
	 * A value with its day.
	 *
	 * @param note how and when it was measured
	 */
	record Cell(String value, @Nullable String note) {

		static final Cell NONE = new Cell(Texts.NONE, null);

		/**
		 * The same without a note that stands in the heading; a grade has no method.
		 */
		Cell without(@Nullable String heading) {
			var stands = this.note != null && heading != null
					&& (heading.equals(this.note) || heading.startsWith(this.note + ","));
			return stands ? new Cell(this.value, null) : this;
		}

	}

	/** Whether the page has to say that some are left out. */
	public boolean anyLeftOut() {
		return this.types.stream().anyMatch((type) -> type.leftOut() > 0);
	}

	static ScarTable of(SeriesRecord record, SeriesFigures figures, Doors doors, Texts texts) {
		var editable = doors.isOpen("/scars/any/edit");
		var photographs = doors.ifOpen("/patients/" + record.series().patient() + "/photographs");
		var sessions = record.sessions().stream().map((session) -> session.number()).toList();
		var rows = figures.scars()
			.stream()
			.map((scar) -> row(scar, editable, photographs, sessions, figures.repeatability(), texts))
			.toList();
		var baselineNote = commonest(rows.stream().map((row) -> row.baseline().note()));
		var latestNote = commonest(rows.stream().map((row) -> row.latest().note()));
		return new ScarTable(types(figures, texts),
				rows.stream()
					.map((row) -> row.with(row.baseline().without(baselineNote), row.latest().without(latestNote)))
					.toList(),
				baselineNote, latestNote,
				figures.scars().stream().map((scar) -> mark(scar, figures.repeatability(), texts)).toList(),
				error(figures.repeatability(), texts), texts.say("record.scars.note"));
	}

	private static List<TypeRow> types(SeriesFigures figures, Texts texts) {
		var byType = new EnumMap<ScarType, List<ScarProgress>>(ScarType.class);
		figures.scars()
			.forEach((scar) -> byType.computeIfAbsent(scar.scar().type(), (type) -> new ArrayList<>()).add(scar));
		return byType.entrySet()
			.stream()
			.map((entry) -> type(entry.getKey(), entry.getValue(), figures.repeatability(), texts))
			.toList();
	}

	private static TypeRow type(ScarType type, List<ScarProgress> scars, @Nullable Repeatability repeatability,
			Texts texts) {
		var percents = scars.stream()
			.map(ScarProgress::change)
			.flatMap(Optional::stream)
			.filter(ScarChange.InDepth.class::isInstance)
			.mapToDouble((change) -> ((ScarChange.InDepth) change).percent())
			.toArray();
		var verdicts = scars.stream().map((scar) -> scar.verdict(repeatability)).flatMap(Optional::stream).toList();
		return new TypeRow(texts.word("scar-type", type), scars.size(),
				(percents.length > 0)
						? texts.say("record.types.mean",
								Written.number(Arrays.stream(percents).average().orElseThrow(), 0), percents.length)
						: Texts.NONE,
				Collections.frequency(verdicts, Verdict.RESOLVED), Collections.frequency(verdicts, Verdict.BETTER),
				Collections.frequency(verdicts, Verdict.WITHIN_ERROR), Collections.frequency(verdicts, Verdict.WORSE),
				Collections.frequency(verdicts, Verdict.NOT_JUDGED),
				(int) scars.stream().filter((scar) -> scar.leftOut() != null).count());
	}

	/** The note that more than half of the rows have. */
	private static @Nullable String commonest(Stream<@Nullable String> notes) {
		var counts = new LinkedHashMap<String, Integer>();
		notes.filter(Objects::nonNull).forEach((note) -> counts.merge(note, 1, Integer::sum));
		var all = counts.values().stream().mapToInt(Integer::intValue).sum();
		return counts.entrySet()
			.stream()
			.filter((note) -> 2 * note.getValue() > all)
			.map(Map.Entry::getKey)
			.findFirst()
			.orElse(null);
	}

	private static Row row(ScarProgress progress, boolean editable, @Nullable String photographs,
			List<Integer> sessions, @Nullable Repeatability repeatability, Texts texts) {
		var scar = progress.scar();
		var change = progress.change();
		var inDepth = showsDepth(progress);
		var verdict = progress.verdict(repeatability);
		var stage = progress.latestStage();
		return new Row(Anchors.of(scar).substring(1),
				(editable ? "/scars/%s/edit" : "/history/scar/%s").formatted(scar.id()),
				(photographs != null) ? photographs + "?scar=" + scar.id() : null, scar.label(),
				texts.word("scar-type", scar.type()), texts.region(scar.region()), size(progress),
				texts.word("depth-class", progress.depthClass().orElse(null)),
				progress.baseline().map((state) -> cell(state, inDepth, texts)).orElse(Cell.NONE),
				progress.latest().map((state) -> cell(state, inDepth, texts)).orElse(Cell.NONE),
				(stage > 0 && stage < sessions.size()) ? texts.say("record.scars.stage", sessions.get(stage - 1))
						: null,
				change.map((one) -> change(one, texts)).orElse(Texts.NONE), verdict.map(ScarTable::kind).orElse(null),
				verdict.map((one) -> texts.say("record.verdict." + word(one))).orElse(null), leftOut(progress, texts),
				trend(progress, inDepth, texts), response(progress, texts));
	}

	/**
	 * Whether its depth is what is compared: where a change in depth is known, or before
	 * one can be, where the baseline has a depth.
	 */
	private static boolean showsDepth(ScarProgress progress) {
		return progress.change()
			.map(ScarChange.InDepth.class::isInstance)
			.orElseGet(() -> progress.baseline().or(progress::latest).map(ScarState::depth).isPresent());
	}

	private static String size(ScarProgress progress) {
		var size = progress.size();
		if (size == null) {
			return Texts.NONE;
		}
		return (size.lengthMm() != null && size.widthMm() != null)
				? size.lengthMm().toPlainString() + " × " + size.widthMm().toPlainString()
				: Texts.exact((size.lengthMm() != null) ? size.lengthMm() : size.widthMm());
	}

	private static Cell cell(ScarState state, boolean inDepth, Texts texts) {
		var depth = state.depth();
		if (inDepth && depth != null) {
			return new Cell(texts.say("record.depth", Written.number(depth.mm(), 2)),
					note(depth.measuredOn(), texts.word("depth-method", depth.method())));
		}
		var severity = state.severity();
		return (severity != null)
				? new Cell(texts.say("record.severity", grade(severity.grade())), Written.day(severity.judgedOn()))
				: Cell.NONE;
	}

	private static String note(LocalDate day, String method) {
		return Written.day(day) + ", " + method;
	}

	/** A grade, with decimals only where it is the mean of several. */
	static String grade(double grade) {
		return Written.number(grade, (grade == Math.rint(grade)) ? 0 : 1);
	}

	private static String change(ScarChange change, Texts texts) {
		if (change instanceof ScarChange.InDepth depth) {
			return texts.say("record.percent", Written.number(depth.percent(), 0));
		}
		var grades = ((ScarChange.InGrade) change).grades();
		return (grades == 0) ? texts.say("record.grades.same")
				: texts.say((grades < 0) ? "record.grades.better" : "record.grades.worse", Math.abs(grades),
						grade(Math.abs(grades)));
	}

	private static String word(Verdict verdict) {
		return verdict.name().toLowerCase(Locale.ROOT).replace('_', '-');
	}

	private static @Nullable String leftOut(ScarProgress progress, Texts texts) {
		var left = progress.leftOut();
		if (left == null) {
			return null;
		}
		var said = texts.say("record.scars.left-out", Written.day(left.assessedOn()),
				texts.word("scar-state", left.standing()));
		return Stream.of(said, left.into(), left.reason()).filter(Objects::nonNull).collect(Collectors.joining(": "));
	}

	private static @Nullable String kind(Verdict verdict) {
		return switch (verdict) {
			case RESOLVED, BETTER -> "better";
			case WITHIN_ERROR -> "same";
			case WORSE -> "worse";
			case NOT_JUDGED -> "unknown";
		};
	}

	private static @Nullable Trend trend(ScarProgress progress, boolean inDepth, Texts texts) {
		return Trend.of(inDepth ? progress.depths() : progress.severities(), inDepth ? null : 4.0,
				(value) -> inDepth ? Written.number(value, 2) : grade(value), texts);
	}

	private static String response(ScarProgress progress, Texts texts) {
		return Texts
			.joined(progress.response().stream().map((grade) -> texts.word("response", grade.toString())).toList());
	}

	private static FaceMark mark(ScarProgress progress, @Nullable Repeatability repeatability, Texts texts) {
		var scar = progress.scar();
		return new FaceMark(scar.label(), scar.region(), scar.type(), progress.depthClass().orElse(null),
				(scar.x() != null) ? scar.x().doubleValue() : null, (scar.y() != null) ? scar.y().doubleValue() : null,
				progress.verdict(repeatability).map(ScarTable::responseWord).orElse("unknown"),
				progress.change()
					.map((change) -> said(change, texts))
					.orElseGet(() -> texts.say("record.mark.no-change")),
				Anchors.of(scar));
	}

	private static String responseWord(Verdict verdict) {
		return switch (verdict) {
			case RESOLVED -> "resolved";
			case BETTER -> "better";
			case WITHIN_ERROR -> "same";
			case WORSE -> "worse";
			case NOT_JUDGED -> "unknown";
		};
	}

	private static String said(ScarChange change, Texts texts) {
		if (change instanceof ScarChange.InDepth depth) {
			return texts.say((depth.percent() < 0) ? "record.mark.deeper" : "record.mark.shallower",
					Written.number(Math.abs(depth.percent()), 0));
		}
		return texts.say("record.mark.grades", Written.signed(((ScarChange.InGrade) change).grades(), 0));
	}

	/** What measurement error rests on, or what is missing to know it. */
	private static String error(@Nullable Repeatability repeatability, Texts texts) {
		if (repeatability instanceof Repeatability.Known known) {
			var smallest = known.smallestDetectableChange();
			return texts.say(
					(known.raters() == Repeatability.Raters.BETWEEN) ? "record.error.between" : "record.error.within",
					Written.number(-100 * Math.expm1(-smallest), 0), Written.number(100 * Math.expm1(smallest), 0),
					known.error().pairs(), known.error().patients());
		}
		if (repeatability instanceof Repeatability.TooFew few) {
			var missing = new ArrayList<String>();
			var between = Optional.ofNullable(few.ratings().between());
			var within = Optional.ofNullable(few.ratings().within());
			missing.add(texts.say("record.error.pairs-between", between.map((one) -> one.pairs()).orElse(0),
					between.map((one) -> one.patients()).orElse(0)));
			missing.add(texts.say("record.error.pairs-within", within.map((one) -> one.pairs()).orElse(0),
					within.map((one) -> one.patients()).orElse(0)));
			return texts.say("record.error.too-few", few.pairsNeeded(), few.patientsNeeded(), missing.get(0),
					missing.get(1));
		}
		return texts.say("record.error.none");
	}

}
