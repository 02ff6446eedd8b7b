package org.seriatim.record.web;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.RaisedRedFlag;
import org.seriatim.record.domain.DataQuestion;
import org.seriatim.record.domain.FindingEntry;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.shell.Written;
import org.seriatim.treatment.Layer;

/**
 * What has to be seen before anything else on the page.
 *
 * @param redFlags possible emergencies that nobody has closed
 * @param holds other open findings that hold treatment
 * @param open open findings that do not, and that nobody has seen gone
 * @param goneButOpen how many more were seen gone, and wait to be closed
 * @param belowDermis sessions with an injection below the dermis
 * @param questions data-quality items
 */
record Alerts(List<Line> redFlags, List<Line> holds, List<Line> open, int goneButOpen, List<Line> belowDermis,
		List<Line> questions) {

	/** One thing, and where the page shows it. */
	record Line(String text, String href, @Nullable String note) {

		Line(String text, String href) {
			this(text, href, null);
		}

	}

	/**
	 * @param raised the possible emergencies that are open, with when they were raised
	 * and acknowledged
	 */
	static Alerts of(SeriesRecord record, Waiting waiting, Texts texts) {
		var raised = waiting.openOf(record);
		var redFlags = new ArrayList<Line>();
		var holds = new ArrayList<Line>();
		var open = new ArrayList<Line>();
		var goneButOpen = 0;
		for (var finding : record.findings()) {
			if (finding.finding().isOpenRedFlag()) {
				redFlags.add(redFlag(finding, raised, waiting, texts));
			}
			else if (finding.holdsTreatment()) {
				holds.add(line(finding, texts));
			}
			else if (finding.finding().isOpen() && finding.isSeenGone()) {
				goneButOpen++;
			}
			else if (finding.finding().isOpen()) {
				open.add(line(finding, texts));
			}
		}
		var below = record.sessions()
			.stream()
			.filter((session) -> session.session()
				.injections()
				.stream()
				.anyMatch((injection) -> injection.layer() == Layer.BELOW_DERMIS))
			.map((session) -> new Line(texts.say("record.alert.below-dermis", session.number()), Anchors.of(session)))
			.toList();
		return new Alerts(redFlags, holds, open, goneButOpen, below,
				DataQuestion.in(record).stream().map((question) -> line(question, texts)).toList());
	}

	/** What holds treatment, for the page of the patient. */
	static Alerts ofHolds(List<FindingEntry> findings, List<RaisedRedFlag> raised, Waiting waiting, Texts texts) {
		var redFlags = findings.stream().filter((finding) -> finding.finding().isOpenRedFlag()).toList();
		var holds = findings.stream()
			.filter((finding) -> finding.holdsTreatment() && !redFlags.contains(finding))
			.toList();
		return new Alerts(redFlags.stream().map((finding) -> redFlag(finding, raised, waiting, texts)).toList(),
				holds.stream().map((finding) -> line(finding, texts)).toList(), List.of(), 0, List.of(), List.of());
	}

	private static Line redFlag(FindingEntry finding, List<RaisedRedFlag> raised, Waiting waiting, Texts texts) {
		var line = line(finding, texts);
		return new Line(line.text(), line.href(),
				raised.stream()
					.filter((flag) -> flag.finding().equals(finding.finding().id()))
					.findFirst()
					.map(waiting::of)
					.orElse(null));
	}

	private static Line line(FindingEntry finding, Texts texts) {
		return new Line(texts.say("record.alert.finding", FindingRow.name(finding, texts),
				Written.day(finding.finding().firstNotedOn())), Anchors.of(finding));
	}

	private static Line line(DataQuestion question, Texts texts) {
		if (question instanceof DataQuestion.Volume volume) {
			var missing = volume.differenceMl().signum() > 0;
			return new Line(texts.say(missing ? "record.question.volume-missing" : "record.question.volume-beyond",
					preparation(volume.session(), volume.preparation().number(), texts),
					Written.number(volume.differenceMl().abs(), 2)), Anchors.of(volume.session()));
		}
		if (question instanceof DataQuestion.Expired expired) {
			return new Line(texts.say("record.question.expired",
					preparation(expired.session(), expired.preparation().number(), texts),
					Texts.day(expired.preparation().expiresOn())), Anchors.of(expired.session()));
		}
		if (question instanceof DataQuestion.MarkOutsideRegion mark) {
			return new Line(texts.say("record.question.mark", mark.scar().label(), texts.region(mark.scar().region())),
					Anchors.of(mark.scar()));
		}
		var contradiction = (DataQuestion.Contradiction) question;
		var key = switch (contradiction.why()) {
			case DATED_BEFORE_SESSION -> "record.question.before-session";
			case PRESENT_BEFORE_FIRST_NOTED -> "record.question.present-before";
			case GONE_ON_CONTRADICTED -> "record.question.gone-on";
		};
		return new Line(
				texts.say(key, FindingRow.name(contradiction.finding(), texts), Written.day(contradiction.left())),
				Anchors.of(contradiction.finding()));
	}

	private static String preparation(SessionEntry session, int number, Texts texts) {
		return texts.say("record.question.preparation", session.number(), number);
	}

	/**
	 * The same for another page: what must be seen, each leading to where the page at
	 * that address shows it. What only concerns the quality of the record stays there.
	 */
	Alerts under(String address) {
		return new Alerts(under(this.redFlags, address), under(this.holds, address), under(this.open, address), 0,
				under(this.belowDermis, address), List.of());
	}

	private static List<Line> under(List<Line> lines, String address) {
		return lines.stream().map((line) -> new Line(line.text(), address + line.href())).toList();
	}

	public boolean isEmpty() {
		return this.redFlags.isEmpty() && this.holds.isEmpty() && this.open.isEmpty() && this.goneButOpen == 0
				&& this.belowDermis.isEmpty() && this.questions.isEmpty();
	}

}
