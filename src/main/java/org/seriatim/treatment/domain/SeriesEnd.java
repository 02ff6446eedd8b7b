package org.seriatim.treatment.domain;

import java.time.LocalDate;

import org.seriatim.treatment.SeriesStatus;

/**
 * That a series is over.
 *
 * @param status completed or stopped
 * @param reason in the words of who ended it
 */
public record SeriesEnd(SeriesStatus status, LocalDate on, String reason) {

	public SeriesEnd {
		if (status == SeriesStatus.OPEN) {
			throw new IllegalArgumentException("an open series has no end");
		}
		if (reason.isBlank()) {
			throw new IllegalArgumentException("the end of a series needs a reason");
		}
	}

}
