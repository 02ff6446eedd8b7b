package org.seriatim.exchange.domain;

import java.util.Map;

/**
 * What is known of a file of the bundle once it was read.
 *
 * @param readable whether its rows, at least those without a problem, could be staged
 * @param columnNumbers where each column stands in the file, from 1
 * @param digest the SHA-256 of the file in hexadecimal digits
 */
record Incoming(boolean readable, Map<String, Integer> columnNumbers, String digest) {

	static final Incoming UNREADABLE = new Incoming(false, Map.of(), "");

}
