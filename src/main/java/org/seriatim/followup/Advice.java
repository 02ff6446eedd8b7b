package org.seriatim.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;

/**
 * When the patient should come back after the last session of an open series, and what
 * should change, with every reason. The tool advises; a practitioner decides.
 *
 * @param series the series
 * @param session its last session
 * @param sessionNumber number of that session
 * @param treatedOn day of that session
 * @param status what is asked for first
 * @param first first day for the next session; none while on hold, as the other days of
 * the window
 * @param target day to aim for
 * @param last last day
 * @param firstIfLumpPersisted first day if a lump turns out to have lasted, where that is
 * not known
 * @param nextContact day of the next contact, which may have passed; none when the answer
 * is known
 * @param reasons every rule that fired, the base interval included
 * @param techniqueNotes what to do differently at the next session
 * @param cautions what stands beside it, without the ones that depend on today
 * @param protocolVersion the protocol that it follows
 */
public record Advice(SeriesId series, SessionId session, int sessionNumber, LocalDate treatedOn, AdviceStatus status,
		@Nullable LocalDate first, @Nullable LocalDate target, @Nullable LocalDate last,
		@Nullable LocalDate firstIfLumpPersisted, @Nullable LocalDate nextContact, List<Reason> reasons,
		List<Remark> techniqueNotes, List<Remark> cautions, int protocolVersion) {

	public Advice {
		reasons = List.copyOf(reasons);
		techniqueNotes = List.copyOf(techniqueNotes);
		cautions = List.copyOf(cautions);
	}

	/**
	 * The words of the rules as files have them: in alphabetical order, {@code base} only
	 * where no other fired.
	 */
	public List<String> ruleWords() {
		var others = this.reasons.stream()
			.map(Reason::rule)
			.filter((rule) -> rule != Rule.BASE)
			.map(Rule::word)
			.sorted()
			.toList();
		return others.isEmpty() ? List.of(Rule.BASE.word()) : others;
	}

	/** Whether this rule fired. */
	public boolean follows(Rule rule) {
		return this.reasons.stream().anyMatch((reason) -> reason.rule() == rule);
	}

	/**
	 * Whether a decision on the other advice is one on this: about the same session, with
	 * the same status, window and rules. The next contact, the figures in the sentences
	 * and what stands beside may differ.
	 */
	public boolean saysTheSameAs(Advice other) {
		return this.session.equals(other.session) && this.status == other.status
				&& Objects.equals(this.first, other.first) && Objects.equals(this.last, other.last)
				&& Objects.equals(this.firstIfLumpPersisted, other.firstIfLumpPersisted)
				&& ruleWords().equals(other.ruleWords());
	}

	/** Whether the window has passed on this day. */
	public boolean isOverdueOn(LocalDate day) {
		return this.last != null && day.isAfter(this.last);
	}

	/**
	 * Everything that stands beside the advice on this day: skin that is not calm, the
	 * cautions, and a window that has passed.
	 */
	public List<Remark> cautionsOn(LocalDate day) {
		var standing = new ArrayList<Remark>();
		this.reasons.stream()
			.filter((reason) -> reason.rule() == Rule.OPEN_SKIN)
			.map((reason) -> new Remark(reason.sentence(), reason.evidence()))
			.forEach(standing::add);
		standing.addAll(this.cautions);
		if (this.last != null && day.isAfter(this.last)) {
			standing.add(new Remark(Sentence.of("followup.caution.overdue", Argument.day(this.last)), List.of()));
		}
		return standing;
	}

}
