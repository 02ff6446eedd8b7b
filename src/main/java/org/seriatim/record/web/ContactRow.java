package org.seriatim.record.web;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.record.domain.SessionEntry;
import org.seriatim.shell.Written;

/**
 * A row of the table of contacts.
 *
 * @param anchor the row's id; none for a further contact of the same day
 * @param href where it is corrected, for who may
 * @param session number of the session that it follows, and the days since
 */
record ContactRow(@Nullable String anchor, @Nullable String href, String date, String session, String channel,
		String outcome, String lumps, String pain, String note) {

	/** The newest first. */
	static List<ContactRow> all(SeriesRecord record, Doors doors, Texts texts) {
		var mayCorrect = doors.isOpen("/contacts/any/edit");
		var rows = new ArrayList<ContactRow>();
		var anchors = new HashSet<String>();
		for (var contact : record.contacts()) {
			var anchor = Anchors.of(contact).substring(1);
			rows.add(0, new ContactRow(anchors.add(anchor) ? anchor : null,
					mayCorrect ? "/contacts/" + contact.id() + "/edit" : null, Written.day(contact.contactedOn()),
					record.session(contact.session())
						.map((session) -> after(session, contact.contactedOn(), texts))
						.orElse(Texts.NONE),
					texts.word("channel", contact.channel()), texts.word("contact-outcome", contact.outcome()),
					texts.truth(contact.lumpsPresent()), Texts.whole(contact.painNrs()), Texts.text(contact.note())));
		}
		return rows;
	}

	private static String after(SessionEntry session, LocalDate day, Texts texts) {
		return texts.say("record.finding.day", session.number(), ChronoUnit.DAYS.between(session.treatedOn(), day));
	}

}
