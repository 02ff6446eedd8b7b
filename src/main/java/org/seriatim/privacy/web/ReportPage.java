package org.seriatim.privacy.web;

import java.util.List;

/** Everything that is held about a patient, as the page says it. */
record ReportPage(List<Section> tables, List<OpeningLine> openings) {

	/**
	 * One kind of entry.
	 *
	 * @param kind its word, by which the page has a heading
	 */
	record Section(String kind, List<String> columns, List<List<String>> rows) {
	}

	/** What people of some roles did with the record on one day. */
	record OpeningLine(String day, String roles, String action, String kind, long times) {
	}

}
