package org.seriatim.bundle;

import java.util.List;

/**
 * The exchange bundle as a whole: which version of the format this service writes, and
 * the files of a bundle in the order in which a row may refer to earlier ones.
 */
public final class BundleFormat {

	/** The newest format version that is read, and the one that is written. */
	public static final int VERSION = 1;

	/** The file that states the format version; a bundle without it is of version 1. */
	public static final String ABOUT = "about.csv";

	/**
	 * Every file with records. A row refers to rows of files further up only, so this is
	 * also the order of writing.
	 */
	public static final List<String> FILES = List.of("patients.csv", "series.csv", "scars.csv", "scar_assessments.csv",
			"scar_counts.csv", "pore_assessments.csv", "global_assessments.csv", "sessions.csv", "preparations.csv",
			"injections.csv", "findings.csv", "finding_observations.csv", "contacts.csv", "appointments.csv");

	private BundleFormat() {
	}

}
