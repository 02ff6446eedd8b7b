package org.seriatim.access;

import java.time.Duration;

/**
 * Slows down who asks for secret addresses that do not exist, so that trying many of them
 * is slow and costs the service little. Whoever holds an address that exists is never
 * asked to wait because of others.
 */
public interface UnknownAddresses {

	/**
	 * Counts that somebody asked for one.
	 * @param networkAddress where the request came from
	 * @return how long to wait before the next is looked at; zero if this one is answered
	 */
	Duration asked(String networkAddress);

}
