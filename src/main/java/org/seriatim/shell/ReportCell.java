package org.seriatim.shell;

/**
 * Text cells of reports that people open in a spreadsheet, which would take some of them
 * for formulas.
 */
public final class ReportCell {

	private static final String STARTS_A_FORMULA = "=+-@\t\r";

	private ReportCell() {
	}

	/**
	 * The text, with an apostrophe before it where a spreadsheet would calculate with it.
	 * Numbers and dates of our own need none.
	 */
	public static String text(String text) {
		return (!text.isEmpty() && STARTS_A_FORMULA.indexOf(text.charAt(0)) >= 0) ? "'" + text : text;
	}

}
