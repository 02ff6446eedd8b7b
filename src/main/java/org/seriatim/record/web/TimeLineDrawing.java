package org.seriatim.record.web;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.RecordedContact;
import org.seriatim.record.domain.FindingEntry;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.record.web.TimeLine.Bar;
import org.seriatim.record.web.TimeLine.Bars;
import org.seriatim.record.web.TimeLine.Entry;
import org.seriatim.record.web.TimeLine.Point;
import org.seriatim.record.web.TimeLine.Span;
import org.seriatim.shell.Written;

/** Draws the time line of a series. */
final class TimeLineDrawing {

	/** Height of a row of bars, in pixels. */
	private static final int ROW = 11;

	/** White to the left and right of what is drawn, in days. */
	private static final int MARGIN_DAYS = 6;

	/** Least distance between two bars in one row, in percent of the width. */
	private static final double GAP = 0.5;

	private final SeriesRecord record;

	private final List<SessionEntry> sessions;

	private final LocalDate today;

	private final Texts texts;

	private final TreeMap<LocalDate, List<String>> assessed;

	private final List<FindingEntry> lumps;

	private final List<FindingEntry> others;

	private final TimeScale scale;

	private final @Nullable Window window;

	/** The days within which the next session is advised. */
	record Window(LocalDate first, LocalDate last) {
	}

	private TimeLineDrawing(SeriesRecord record, @Nullable Window window, LocalDate today, Texts texts) {
		this.record = record;
		this.sessions = record.sessions();
		this.window = window;
		this.today = today;
		this.texts = texts;
		this.assessed = assessed(record);
		this.lumps = ofSeries(record).filter((finding) -> finding.duration().isPresent()).toList();
		this.others = ofSeries(record).filter((finding) -> finding.duration().isEmpty()).toList();
		this.scale = scale();
	}

	/** The time line; empty before the first session. */
	static Optional<TimeLine> of(SeriesRecord record, @Nullable Window window, LocalDate today, Texts texts) {
		return record.sessions().isEmpty() ? Optional.empty()
				: Optional.of(new TimeLineDrawing(record, window, today, texts).drawn());
	}

	/** The findings of the series' sessions, and those of no session while it ran. */
	private static Stream<FindingEntry> ofSeries(SeriesRecord record) {
		var stages = record.stages().orElseThrow();
		return record.findings().stream().filter((finding) -> {
			var session = finding.session();
			var noted = finding.finding().firstNotedOn();
			return (session != null) ? session.session().series().equals(record.series().id())
					: !noted.isBefore(stages.sessionDays().get(0))
							&& (stages.nextSeriesOn() == null || noted.isBefore(stages.nextSeriesOn()));
		});
	}

	/** The days with an assessment within the stages of the series, and what of. */
	private static TreeMap<LocalDate, List<String>> assessed(SeriesRecord record) {
		var all = new TreeMap<LocalDate, List<String>>();
		record.scars().forEach((scar) -> scar.assessments().forEach((entry) -> add(all, entry.assessedOn(), "scars")));
		record.pores().forEach((entry) -> add(all, entry.assessedOn(), "pores"));
		record.counts().forEach((entry) -> add(all, entry.assessedOn(), "counts"));
		record.globals().forEach((entry) -> add(all, entry.assessedOn(), "scales"));
		var stages = record.stages().orElseThrow();
		var baseline = all.floorKey(stages.sessionDays().get(0));
		var days = new TreeSet<>(all.keySet());
		days.removeIf((day) -> (baseline != null && day.isBefore(baseline))
				|| (stages.nextSeriesOn() != null && day.isAfter(stages.nextSeriesOn())));
		all.keySet().retainAll(days);
		return all;
	}

	private static void add(TreeMap<LocalDate, List<String>> days, LocalDate day, String what) {
		var ofDay = days.computeIfAbsent(day, (key) -> new ArrayList<>());
		if (!ofDay.contains(what)) {
			ofDay.add(what);
		}
	}

	private TimeScale scale() {
		var days = new TreeSet<>(this.assessed.keySet());
		this.sessions.forEach((session) -> days.add(session.treatedOn()));
		this.record.contacts().forEach((contact) -> days.add(contact.contactedOn()));
		Stream.concat(this.lumps.stream(), this.others.stream()).forEach((finding) -> {
			days.add(finding.finding().firstNotedOn());
			days.add(end(finding).orElse(finding.lastSeenPresent()));
		});
		if (this.window != null) {
			days.add(this.window.last());
		}
		if (this.record.series().isOpen()) {
			days.add(this.today);
		}
		return new TimeScale(days.first().minusDays(MARGIN_DAYS), days.last().plusDays(MARGIN_DAYS));
	}

	private TimeLine drawn() {
		var months = this.scale.months();
		return new TimeLine(months, this.scale.contains(this.today) ? this.scale.at(this.today) : null,
				(this.window != null) ? span(this.window.first(), this.window.last()) : null,
				this.sessions.stream().map(this::point).toList(),
				this.assessed.entrySet().stream().map((day) -> point(day.getKey(), day.getValue())).toList(),
				this.record.contacts().stream().map(this::point).toList(), bars(this.lumps), bars(this.others),
				entries());
	}

	private Span span(LocalDate first, LocalDate last) {
		return new Span(this.scale.at(first), this.scale.between(first, last));
	}

	private Point point(SessionEntry session) {
		return new Point(this.scale.at(session.treatedOn()), "session", Integer.toString(session.number()),
				this.texts.say("record.time-line.session", session.number(), Written.day(session.treatedOn()),
						session.practitioner()),
				Anchors.of(session));
	}

	private Point point(LocalDate day, List<String> what) {
		return new Point(this.scale.at(day), "assessment", "",
				this.texts.say("record.time-line.assessment", Written.day(day), assessedWords(what)), Anchors.SCARS);
	}

	private String assessedWords(List<String> what) {
		return String.join(", ", what.stream().map((one) -> this.texts.say("record.assessed." + one)).toList());
	}

	private Point point(RecordedContact contact) {
		return new Point(this.scale.at(contact.contactedOn()), kind(contact), "",
				this.texts.say("record.time-line.contact", Written.day(contact.contactedOn()), outcome(contact)),
				Anchors.of(contact));
	}

	private static String kind(RecordedContact contact) {
		return switch (contact.outcome()) {
			case REACHED -> Boolean.TRUE.equals(contact.lumpsPresent()) ? "lump-told" : "reached";
			case NO_ANSWER, DECLINED -> "failed";
		};
	}

	private String outcome(RecordedContact contact) {
		var words = this.texts.word("contact-outcome", contact.outcome());
		return (contact.lumpsPresent() != null)
				? words + ", "
						+ this.texts.say(contact.lumpsPresent() ? "record.contact.lump" : "record.contact.no-lump")
				: words;
	}

	private Bars bars(List<FindingEntry> findings) {
		var ends = new ArrayList<Double>();
		var bars = new ArrayList<Bar>();
		findings.stream()
			.sorted(Comparator.comparing((finding) -> finding.finding().firstNotedOn()))
			.forEach((finding) -> {
				var from = this.scale.share(onset(finding));
				var row = 0;
				while (row < ends.size() && ends.get(row) + GAP > from) {
					row++;
				}
				var to = this.scale.share(end(finding).orElse(edge(finding)));
				if (row == ends.size()) {
					ends.add(to);
				}
				else {
					ends.set(row, to);
				}
				bars.add(bar(finding, row * ROW + ROW / 2 + 1));
			});
		return new Bars(bars, ends.size() * ROW + 2);
	}

	private Bar bar(FindingEntry finding, int y) {
		var present = lastPresent(finding);
		var end = end(finding);
		var edge = edge(finding);
		return new Bar(y, this.scale.at(onset(finding)), span(onset(finding), present),
				end.map((gone) -> span(present, gone)).orElse(null), end.map(this.scale::at).orElse(null),
				end.isEmpty() ? span(present, edge) : null, end.isEmpty() ? this.scale.at(edge) : null,
				finding.holdsTreatment() ? "holds" : (end.isEmpty() ? "open" : "gone"), title(finding),
				Anchors.of(finding));
	}

	/** Where the bar of a finding ends that nobody saw gone. */
	private LocalDate edge(FindingEntry finding) {
		var known = this.scale.contains(this.today) ? this.today : this.scale.to();
		var present = lastPresent(finding);
		return known.isAfter(present) ? known : present;
	}

	private static LocalDate onset(FindingEntry finding) {
		var noted = finding.finding().firstNotedOn();
		var session = finding.session();
		return (session != null && noted.isBefore(session.treatedOn())) ? session.treatedOn() : noted;
	}

	/** For a lump L of its duration, else the last day on which it was seen. */
	private static LocalDate lastPresent(FindingEntry finding) {
		var session = finding.session();
		return finding.duration()
			.filter((duration) -> session != null)
			.map((duration) -> session.treatedOn().plusDays(duration.lastPresent()))
			.orElseGet(finding::lastSeenPresent);
	}

	/**
	 * For a lump R of its duration, else the day on which it was seen absent, had gone
	 * according to the patient, or was closed.
	 */
	private static Optional<LocalDate> end(FindingEntry finding) {
		var session = finding.session();
		if (session != null && finding.duration().isPresent()) {
			return finding.duration().map(LumpDuration::absentBy).map((days) -> session.treatedOn().plusDays(days));
		}
		return finding.seenAbsentOn()
			.or(() -> Optional.ofNullable(finding.finding().goneOn())
				.filter((gone) -> gone.isAfter(finding.lastSeenPresent())))
			.or(() -> Optional.ofNullable(finding.finding().closedOn())
				.filter((closed) -> !closed.isBefore(finding.lastSeenPresent())));
	}

	private String title(FindingEntry finding) {
		return this.texts.say("record.time-line.finding", FindingRow.name(finding, this.texts),
				FindingRow.course(finding, this.texts));
	}

	private List<Entry> entries() {
		var entries = new ArrayList<Entry>();
		this.sessions.forEach((session) -> entries.add(entry(session.treatedOn(), session,
				this.texts.say("record.session", session.number()), session.practitioner(), Anchors.of(session))));
		this.assessed.forEach((day, what) -> entries.add(entry(day, before(day),
				this.texts.say("record.time-line.assessed"), assessedWords(what), Anchors.SCARS)));
		this.record.contacts()
			.forEach((contact) -> entries
				.add(entry(contact.contactedOn(), this.record.session(contact.session()).orElse(null),
						this.texts.say("record.time-line.contacted", this.texts.word("channel", contact.channel())),
						outcome(contact), Anchors.of(contact))));
		Stream.concat(this.lumps.stream(), this.others.stream())
			.forEach((finding) -> entries
				.add(entry(finding.finding().firstNotedOn(), finding.session(), FindingRow.name(finding, this.texts),
						FindingRow.course(finding, this.texts), Anchors.of(finding))));
		entries.sort(Comparator.comparing(Entry::on));
		return entries;
	}

	/** The session whose stage a day belongs to: the last one before that day. */
	private @Nullable SessionEntry before(LocalDate day) {
		return this.sessions.stream()
			.filter((session) -> session.treatedOn().isBefore(day))
			.reduce((earlier, later) -> later)
			.orElse(null);
	}

	private Entry entry(LocalDate on, @Nullable SessionEntry session, String what, String detail, String href) {
		var day = (session != null) ? this.texts.say("record.time-line.day", session.number(),
				ChronoUnit.DAYS.between(session.treatedOn(), on)) : Texts.NONE;
		return new Entry(on, Written.day(on), day, what, detail, href);
	}

}
