package org.seriatim.record.web;

import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.RecordedObservation;
import org.seriatim.record.domain.FindingEntry;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.shell.Written;

/**
 * A row of the table of findings.
 *
 * @param anchor the row's id
 * @param href its own page, for who may open it
 * @param session the session that it is counted from
 * @param course how long it lasted, or when it was last seen
 * @param closing by whom, when and why it was closed; none while it is open
 */
record FindingRow(String anchor, @Nullable String href, String name, String session, String firstNoted, String grade,
		boolean serious, boolean redFlag, boolean holds, String course, String observations, @Nullable String closing) {

	/**
	 * Those that are open first, and of them those that hold treatment; the newest first.
	 */
	static List<FindingRow> all(SeriesRecord record, Doors doors, Texts texts) {
		var open = doors.isOpen("/findings/any");
		return record.findings()
			.stream()
			.sorted(Comparator.comparing(FindingEntry::holdsTreatment)
				.reversed()
				.thenComparing((finding) -> !finding.finding().isOpen())
				.thenComparing((finding) -> finding.finding().firstNotedOn(), Comparator.reverseOrder()))
			.map((finding) -> of(finding, open, texts))
			.toList();
	}

	private static FindingRow of(FindingEntry entry, boolean open, Texts texts) {
		var finding = entry.finding();
		return new FindingRow(Anchors.of(entry).substring(1), open ? "/findings/" + finding.id() : null,
				name(entry, texts),
				(entry.session() != null)
						? texts.say("record.finding.day", entry.session().number(),
								ChronoUnit.DAYS.between(entry.session().treatedOn(), finding.firstNotedOn()))
						: Texts.NONE,
				Written.day(finding.firstNotedOn()), Texts.whole(finding.grade()),
				Boolean.TRUE.equals(finding.serious()), finding.isOpenRedFlag(), entry.holdsTreatment(),
				course(entry, texts), observations(entry, texts), closing(entry, texts));
	}

	/** Kind and place: Lump, CHT7; Bruise, Left medial cheek. */
	static String name(FindingEntry entry, Texts texts) {
		var finding = entry.finding();
		var place = (finding.scarLabel() != null) ? finding.scarLabel()
				: (finding.region() != null) ? texts.region(finding.region()) : null;
		return Stream.of(texts.word("finding-kind", finding.kind()), place)
			.filter((part) -> part != null)
			.collect(Collectors.joining(", "));
	}

	/** How long it lasted, as an interval where nobody saw the very day. */
	static String course(FindingEntry entry, Texts texts) {
		return entry.duration().map((duration) -> lasted(duration, texts)).orElseGet(() -> seen(entry, texts));
	}

	private static String lasted(LumpDuration duration, Texts texts) {
		var last = duration.lastPresent();
		var course = (duration.absentBy() != null) ? texts.say("record.lump.gone", last, duration.absentBy())
				: texts.say("record.lump.not-seen-gone", last);
		return duration.recurrent() ? texts.say("record.lump.recurrent", course) : course;
	}

	private static String seen(FindingEntry entry, Texts texts) {
		var present = Written.day(entry.lastSeenPresent());
		if (entry.seenAbsentOn().isPresent()) {
			return texts.say("record.finding.gone", present, Written.day(entry.seenAbsentOn().get()));
		}
		return (entry.finding().goneOn() != null)
				? texts.say("record.finding.gone", present, Written.day(entry.finding().goneOn()))
				: texts.say("record.finding.last-present", present);
	}

	/** How often it was looked at, and the last time. */
	private static String observations(FindingEntry entry, Texts texts) {
		return entry.lastObservation()
			.map((last) -> texts.say("record.finding.observed", entry.finding().observations().size(),
					Written.day(last.observedOn()), texts.say(last.present() ? "record.present" : "record.absent"),
					texts.word("reporter", last.reporter()), size(last, texts)))
			.orElse(Texts.NONE);
	}

	private static String size(RecordedObservation seen, Texts texts) {
		return (seen.sizeMm() != null) ? texts.say("record.finding.size", seen.sizeMm().toPlainString()) : "";
	}

	private static @Nullable String closing(FindingEntry entry, Texts texts) {
		var finding = entry.finding();
		if (finding.closedOn() == null) {
			return null;
		}
		var closed = texts.say("record.finding.closed", Written.day(finding.closedOn()), Texts.text(entry.closedBy()));
		return (finding.closingReason() != null) ? closed + ": " + finding.closingReason() : closed;
	}

}
