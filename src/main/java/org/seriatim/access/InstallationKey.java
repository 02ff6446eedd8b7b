package org.seriatim.access;

/**
 * The one secret of an installation, for those who move it and for those who derive
 * secrets from it.
 */
public interface InstallationKey {

	/** A mark that only this key gives, from which it cannot be read off. */
	String mark();

	/**
	 * A secret that only this key gives to this text, 256 bits in 43 letters, figures,
	 * dashes and underscores that may stand in an address.
	 * @param purpose what it is for; the same text gives another secret for another
	 * purpose
	 */
	String sign(String purpose, String text);

	/** Looks again where it comes from, since the file may be another one now. */
	void readAgain();

}
