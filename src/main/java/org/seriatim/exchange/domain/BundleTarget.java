package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.OutputStream;

/** Where the files of a bundle are written, one after the other. */
interface BundleTarget {

	/** Begins a file; what is written goes into it until the next one begins. */
	OutputStream begin(String name) throws IOException;

}
