package org.seriatim.exchange.domain;

/** Why a record of a CSV file could not be read. */
enum CsvFault {

	UNCLOSED_QUOTE("a cell in quotes without an end", "a closing quote"),

	TEXT_AFTER_QUOTE("text after a closing quote", "a comma or the end of the line after a closing quote"),

	STRAY_QUOTE("a quote inside a cell that does not begin with one",
			"the whole cell in quotes, with each quote in it doubled"),

	TOO_LONG("a line that is longer than can be read", "at most 1,000,000 bytes and 1,000 cells in a line");

	private final String found;

	private final String expected;

	CsvFault(String found, String expected) {
		this.found = found;
		this.expected = expected;
	}

	String found() {
		return this.found;
	}

	String expected() {
		return this.expected;
	}

}
