package org.seriatim.record.web;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.Repeatability;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.RecordedContact;
import org.seriatim.record.domain.FindingEntry;
import org.seriatim.record.domain.SeriesFigures;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.record.domain.StageStep;
import org.seriatim.record.domain.Verdict;
import org.seriatim.shell.Written;

/**
 * What a practitioner asks before the patient sits down: what changed since the last
 * session. Each answer says what it rests on.
 *
 * @param title the last session and how long ago it was
 * @param scars how many scars changed, by verdict; none where no step can be compared
 * @param scarsBasis which assessments were compared
 * @param lumps the last session's lumps, those that nobody saw gone first
 * @param said what the patient said at the last contact that reached anybody
 */
record SinceLastSession(String title, List<Tally> scars, String scarsBasis, @Nullable Mean mean, @Nullable Pores pores,
		@Nullable String overall, String lumpsSummary, List<Lump> lumps, List<String> others, String pain,
		@Nullable Said said, @Nullable String failedContacts) {

	/** How many lumps the card names; the table has them all. */
	private static final int NAMED_LUMPS = 5;

	/**
	 * A number of scars.
	 *
	 * @param kind kind of the status component
	 */
	record Tally(int count, String kind, String text) {
	}

	/** Change of the mean depth, and what it rests on. */
	record Mean(String percent, String basis) {
	}

	/** How the grades of pores changed, and what was compared. */
	record Pores(String text, String basis) {
	}

	/** A lump of the last session. */
	record Lump(String name, String course, boolean gone, String href) {
	}

	/** What the patient said. */
	record Said(String when, List<String> what, @Nullable String note, String href) {
	}

	/** Empty before the first session. */
	static Optional<SinceLastSession> of(SeriesRecord record, SeriesFigures figures, LocalDate today, Texts texts) {
		return record.lastSession().map((session) -> of(record, figures, session, today, texts));
	}

	private static SinceLastSession of(SeriesRecord record, SeriesFigures figures, SessionEntry session,
			LocalDate today, Texts texts) {
		var step = figures.latestStep().orElse(null);
		var findings = record.findings()
			.stream()
			.filter((finding) -> session.id().equals(finding.finding().session()))
			.toList();
		var durations = findings.stream()
			.filter(FindingEntry::isLump)
			.sorted(Comparator.comparing((finding) -> finding.duration().map(LumpDuration::isSeenGone).orElse(true)))
			.toList();
		return new SinceLastSession(
				texts.say("record.since.title", session.number(), Written.day(session.treatedOn()),
						ChronoUnit.DAYS.between(session.treatedOn(), today)),
				(step != null) ? tallies(step, texts) : List.of(), scarsBasis(step, figures, record, texts),
				(step != null) ? mean(step, figures.repeatability(), texts) : null, pores(figures, record, texts),
				overall(figures, texts), lumpsSummary(durations, texts),
				durations.stream().limit(NAMED_LUMPS).map((finding) -> lump(finding, texts)).toList(),
				others(findings, texts), pain(session, texts), said(record, session, texts),
				failed(record, session, texts));
	}

	private static List<Tally> tallies(StageStep step, Texts texts) {
		var tallies = new ArrayList<Tally>();
		add(tallies, step.with(Verdict.RESOLVED), "better", "record.tally.resolved", texts);
		add(tallies, step.with(Verdict.BETTER), "better", "record.tally.better", texts);
		add(tallies, step.with(Verdict.WITHIN_ERROR), "same", "record.tally.within", texts);
		add(tallies, step.with(Verdict.WORSE), "worse", "record.tally.worse", texts);
		add(tallies, step.with(Verdict.NOT_JUDGED), "unknown", "record.tally.not-judged", texts);
		add(tallies, step.gradesBetter(), "better", "record.tally.grade-better", texts);
		add(tallies, step.gradesWorse(), "worse", "record.tally.grade-worse", texts);
		add(tallies, step.grades().size() - step.gradesBetter() - step.gradesWorse(), "same", "record.tally.grade-same",
				texts);
		return tallies;
	}

	private static void add(List<Tally> tallies, int count, String kind, String key, Texts texts) {
		if (count > 0) {
			tallies.add(new Tally(count, kind, texts.say(key, count)));
		}
	}

	private static String scarsBasis(@Nullable StageStep step, SeriesFigures figures, SeriesRecord record,
			Texts texts) {
		if (record.scars().isEmpty()) {
			return texts.say("record.since.no-scars");
		}
		return (step != null) ? basis(step.from(), step.to(), figures, record, texts)
				: texts.say("record.since.not-comparable");
	}

	/** Which stages were compared, and whether that is all that is to be known yet. */
	private static String basis(int from, int to, SeriesFigures figures, SeriesRecord record, Texts texts) {
		var sessions = record.sessions();
		var later = sessions.get(to - 1).number();
		var earlier = (from > 0) ? texts.say("record.stage.after", sessions.get(from - 1).number())
				: texts.say("record.stage.baseline");
		return (to == figures.stages()) ? texts.say("record.since.compared", earlier, later)
				: texts.say("record.since.older", sessions.get(sessions.size() - 1).number(), earlier, later);
	}

	private static @Nullable Mean mean(StageStep step, @Nullable Repeatability repeatability, Texts texts) {
		if (step.meanPercent().isEmpty()) {
			return null;
		}
		return new Mean(Written.signed(step.meanPercent().getAsDouble(), 0), step.detectablePercent(repeatability)
			.map((detectable) -> texts.say("record.since.mean.basis", step.meanOver(), Written.number(detectable, 0)))
			.orElseGet(() -> texts.say("record.since.mean.unjudged", step.meanOver())));
	}

	private static @Nullable Pores pores(SeriesFigures figures, SeriesRecord record, Texts texts) {
		return figures.latestPoreStep()
			.map((step) -> new Pores(
					texts.say("record.since.pores", step.changes().size(), step.better(), step.worse(), step.same()),
					basis(step.from(), step.to(), figures, record, texts)))
			.orElse(null);
	}

	private static @Nullable String overall(SeriesFigures figures, Texts texts) {
		var all = figures.sinceBaseline();
		if (all.measured() == 0) {
			return null;
		}
		return (figures.repeatability() instanceof Repeatability.Known)
				? texts.say("record.since.overall", all.measured(), all.with(Verdict.BETTER),
						all.with(Verdict.RESOLVED), all.with(Verdict.WITHIN_ERROR), all.with(Verdict.WORSE))
				: texts.say("record.since.overall-unjudged", all.measured());
	}

	private static String lumpsSummary(List<FindingEntry> lumps, Texts texts) {
		var gone = lumps.stream()
			.filter((finding) -> finding.duration().map(LumpDuration::isSeenGone).orElse(false))
			.count();
		return texts.say("record.since.lumps", lumps.size(), gone, lumps.size() - gone);
	}

	private static Lump lump(FindingEntry finding, Texts texts) {
		var duration = finding.duration();
		var gone = duration.map(LumpDuration::isSeenGone).orElse(true);
		return new Lump(FindingRow.name(finding, texts),
				gone ? FindingRow.course(finding, texts)
						: texts.say("record.lump.last-present", duration.map(LumpDuration::lastPresent).orElse(0)),
				gone, Anchors.of(finding));
	}

	private static List<String> others(List<FindingEntry> findings, Texts texts) {
		return findings.stream()
			.filter((finding) -> !finding.isLump())
			.map((finding) -> texts.say("record.time-line.finding", FindingRow.name(finding, texts),
					FindingRow.course(finding, texts)))
			.toList();
	}

	private static String pain(SessionEntry session, Texts texts) {
		var ofSession = session.session().painNrs();
		var worst = session.worstPain();
		if (ofSession == null && worst.isEmpty()) {
			return texts.say("record.since.no-pain");
		}
		if (worst.isEmpty()) {
			return texts.say("record.since.pain", ofSession);
		}
		var regions = texts.regions(painful(session, worst.get()));
		return (ofSession != null) ? texts.say("record.since.pain-both", ofSession, worst.get(), regions)
				: texts.say("record.since.pain-worst", worst.get(), regions);
	}

	private static Set<Region> painful(SessionEntry session, int pain) {
		var regions = EnumSet.noneOf(Region.class);
		session.session()
			.injections()
			.stream()
			.filter((injection) -> injection.painNrs() != null && injection.painNrs() == pain)
			.forEach((injection) -> regions.add(injection.region()));
		return regions;
	}

	private static @Nullable Said said(SeriesRecord record, SessionEntry session, Texts texts) {
		return after(record, session).stream()
			.filter((contact) -> contact.outcome() == ContactOutcome.REACHED)
			.reduce((earlier, later) -> later)
			.map((contact) -> said(contact, session, texts))
			.orElse(null);
	}

	private static Said said(RecordedContact contact, SessionEntry session, Texts texts) {
		var what = new ArrayList<String>();
		if (contact.lumpsPresent() != null) {
			what.add(texts.say(contact.lumpsPresent() ? "record.contact.lump" : "record.contact.no-lump"));
		}
		if (contact.painNrs() != null) {
			what.add(texts.say("record.contact.pain", contact.painNrs()));
		}
		return new Said(texts.say("record.since.said", Written.day(contact.contactedOn()),
				ChronoUnit.DAYS.between(session.treatedOn(), contact.contactedOn()),
				texts.word("channel", contact.channel())), what, contact.note(), Anchors.of(contact));
	}

	private static @Nullable String failed(SeriesRecord record, SessionEntry session, Texts texts) {
		var contacts = after(record, session);
		var failed = contacts.stream().filter((contact) -> contact.outcome() != ContactOutcome.REACHED).count();
		return (failed > 0) ? texts.say("record.since.failed", failed, contacts.size()) : null;
	}

	private static List<RecordedContact> after(SeriesRecord record, SessionEntry session) {
		return record.contacts().stream().filter((contact) -> contact.session().equals(session.id())).toList();
	}

}
