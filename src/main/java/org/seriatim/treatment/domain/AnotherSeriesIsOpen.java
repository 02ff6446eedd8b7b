package org.seriatim.treatment.domain;

import org.seriatim.treatment.SeriesId;

/** A patient has one open series at a time. */
public class AnotherSeriesIsOpen extends RuntimeException {

	private final SeriesId open;

	AnotherSeriesIsOpen(SeriesId open) {
		super("series " + open + " is open");
		this.open = open;
	}

	public SeriesId open() {
		return this.open;
	}

}
