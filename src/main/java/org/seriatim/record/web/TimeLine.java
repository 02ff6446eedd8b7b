package org.seriatim.record.web;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * What happened through a series, drawn to scale: a lane each for its sessions,
 * assessments and contacts, and bars for what was found. A lump's bar is solid as long as
 * it was certainly there, hatched over the days within which it went, (L, R], and open
 * where nobody saw it gone.
 *
 * @param months the marks of the scale
 * @param today place of today, if the scale reaches it
 * @param window the window of the next session, if there is one
 * @param entries the same as a table
 */
record TimeLine(List<TimeScale.Month> months, @Nullable String today, @Nullable Span window, List<Point> sessions,
		List<Point> assessments, List<Point> contacts, Bars lumps, Bars findings, List<Entry> entries) {

	/**
	 * A moment.
	 *
	 * @param kind which drawing stands for it
	 * @param text what it carries, if anything
	 * @param title what it says
	 * @param href the row of the page that says more
	 */
	record Point(String at, String kind, String text, String title, String href) {
	}

	/** A stretch of days. */
	record Span(String at, String width) {
	}

	/**
	 * A lane of bars.
	 *
	 * @param height of the lane, in pixels
	 */
	record Bars(List<Bar> list, int height) {

		public boolean isEmpty() {
			return this.list.isEmpty();
		}

	}

	/**
	 * A finding as a bar.
	 *
	 * @param y middle of its row, in pixels
	 * @param from first noted
	 * @param present from then to the last day on which it was there
	 * @param uncertain from that day to the first one on which it was seen gone
	 * @param end that day
	 * @param rest from the last day on which it was there to today, where nobody saw it
	 * gone
	 * @param arrow today's place in that case
	 * @param kind drawing of the bar
	 */
	record Bar(int y, String from, Span present, @Nullable Span uncertain, @Nullable String end, @Nullable Span rest,
			@Nullable String arrow, String kind, String title, String href) {
	}

	/**
	 * A row of the table.
	 *
	 * @param day the session that it belongs to and the days since, if it belongs to one
	 * @param href row of the page that says more
	 */
	record Entry(LocalDate on, String date, String day, String what, String detail, String href) {
	}

}
