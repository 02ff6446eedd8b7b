package org.seriatim.followup.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

import jakarta.servlet.http.HttpServletResponse;
import org.apache.commons.csv.CSVFormat;
import org.seriatim.followup.domain.FollowUpList;
import org.seriatim.shell.ReportCell;

/**
 * The advice of all open series as a table for scripts and spreadsheets: RFC 4180, UTF-8,
 * ISO dates, an empty cell for what is not available.
 */
final class AdviceCsv {

	private static final String[] COLUMNS = { "record_number", "session_number", "treated_on", "status", "rules",
			"first_day", "target_day", "last_day", "first_day_if_lump_persisted" };

	private AdviceCsv() {
	}

	/**
	 * @param withRules whether the reader may know the rules; to the desk they would tell
	 * findings and scores, so the cell is then empty
	 */
	static void write(List<FollowUpList.OfPatient> advised, boolean withRules, HttpServletResponse response)
			throws IOException {
		response.setContentType("text/csv;charset=UTF-8");
		response.setCharacterEncoding(StandardCharsets.UTF_8);
		var format = CSVFormat.RFC4180.builder().setHeader(COLUMNS).get();
		try (var csv = format.print(response.getWriter())) {
			for (var row : advised) {
				var advice = row.advice();
				csv.printRecord(ReportCell.text(row.recordNumber()), advice.sessionNumber(), advice.treatedOn(),
						advice.status().name(), withRules ? String.join(";", advice.ruleWords()) : "", advice.first(),
						advice.target(), advice.last(), advice.firstIfLumpPersisted());
			}
		}
	}

}
