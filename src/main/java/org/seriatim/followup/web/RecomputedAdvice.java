package org.seriatim.followup.web;

import java.util.List;
import java.util.stream.Stream;

import org.seriatim.followup.Advice;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Reason;
import org.seriatim.followup.Remark;
import org.seriatim.followup.domain.PastAdvice;
import org.seriatim.shell.Written;

/**
 * An advice beside what its basis gives now, ready to be shown.
 *
 * @param same whether both are equal
 * @param given what was said then
 * @param again what the rules say of the same basis now
 */
record RecomputedAdvice(boolean same, String asOf, int sessions, int findings, int contacts, int scars, int ratings,
		String snapshotOf, int curveLumps, int curvePatients, int pairsBetween, int pairsWithin, List<Line> given,
		List<Line> again) {

	/** A sentence with the records that it rests on. */
	record Line(String sentence, List<String> evidence) {
	}

	static RecomputedAdvice of(PastAdvice.Recomputed found, AdviceWording wording) {
		return new RecomputedAdvice(found.isSame(), Written.day(found.asOf()), found.sessions(), found.findings(),
				found.contacts(), found.scars(), found.ratings(), Written.day(found.snapshotOf()), found.curveLumps(),
				found.curvePatients(), found.pairsBetween(), found.pairsWithin(),
				lines(found.given().advice(), wording), lines(found.again(), wording));
	}

	private static List<Line> lines(Advice advice, AdviceWording wording) {
		var reasons = advice.reasons()
			.stream()
			.map((Reason reason) -> new Line(wording.of(reason.sentence()), names(reason.evidence(), wording)));
		var notes = advice.techniqueNotes().stream();
		var remarks = Stream.concat(notes, advice.cautions().stream())
			.map((Remark remark) -> new Line(wording.of(remark.sentence()), names(remark.evidence(), wording)));
		return Stream.concat(reasons, remarks).toList();
	}

	private static List<String> names(List<Evidence> evidence, AdviceWording wording) {
		return evidence.stream().map(wording::of).toList();
	}

}
