package org.seriatim.access;

/** The one secret of an installation, for those who move it. */
public interface InstallationKey {

	/** A mark that only this key gives, from which it cannot be read off. */
	String mark();

	/** Looks again where it comes from, since the file may be another one now. */
	void readAgain();

}
