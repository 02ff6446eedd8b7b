package org.seriatim.record.web;

import java.util.ArrayList;
import java.util.List;

import org.seriatim.record.domain.SessionEntry;

/** The headings of columns that run over the stages of a series. */
final class Stages {

	private Stages() {
	}

	/** Baseline, After 3, After 4: by the numbers of the patient's sessions. */
	static List<String> headings(List<SessionEntry> sessions, Texts texts) {
		var headings = new ArrayList<String>();
		headings.add(texts.say("record.stage.column.baseline"));
		sessions.forEach((session) -> headings.add(texts.say("record.stage.column.after", session.number())));
		return headings;
	}

}
