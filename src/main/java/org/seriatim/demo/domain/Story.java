package org.seriatim.demo.domain;

/**
 * What becomes of an invented patient, so that every status of the advice has somebody to
 * look at.
 */
enum Story {

	/** Comes when asked to. */
	USUAL,
	/** A local infection after the last session, which nobody has closed yet. */
	INFECTION,
	/** A delayed inflammatory nodule, which nobody has closed yet. */
	NODULE,
	/** No longer gains after the first session. */
	PLATEAU,
	/** Superficial placement, and a lump still felt at the last contact. */
	LASTING_LUMP,
	/** A lump that outlasted the persistence threshold and is gone. */
	PERSISTENT_LUMP,
	/** Could not be reached since the last session. */
	SILENT,
	/** Missed the window. */
	OVERDUE,
	/** Came back for a second series. */
	SECOND_SERIES,
	/** Stopped before the planned number of sessions. */
	STOPPED;

	/** The first patients show one story each; after them they recur, rarely. */
	static Story of(int number) {
		if (number <= values().length) {
			return values()[number - 1];
		}
		return switch (number % 24) {
			case 3 -> PLATEAU;
			case 7 -> SILENT;
			case 11 -> OVERDUE;
			case 13, 19 -> STOPPED;
			case 17 -> SECOND_SERIES;
			case 22 -> PERSISTENT_LUMP;
			default -> USUAL;
		};
	}

}
