package org.seriatim.access;

/**
 * Guards what may be done to an installation that nobody can sign in to yet: only by who
 * reads its console.
 */
public interface FirstVisit {

	/** What one visitor does at a time, whichever service on the database is visited. */
	String WORK = "first visit";

	/** Whether the installation still waits for its first administrator. */
	boolean isAwaited();

	/**
	 * Whether it is the code that the console shows. Wrong ones are answered ever more
	 * slowly.
	 * @param address of the network from which it comes
	 */
	Answer answer(String code, String address);

	/**
	 * @param right whether it is the code
	 * @param secondsToWait seconds until another one is looked at; then this one was not
	 */
	record Answer(boolean right, long secondsToWait) {
	}

}
