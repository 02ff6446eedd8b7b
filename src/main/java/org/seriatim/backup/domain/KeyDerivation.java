package org.seriatim.backup.domain;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.stereotype.Component;

/** How dear it is to try one passphrase on a backup that is made now. */
@Component
public class KeyDerivation {

	private final int iterations;

	@Autowired
	KeyDerivation() {
		this(SealHeader.ITERATIONS);
	}

	public KeyDerivation(int iterations) {
		this.iterations = iterations;
	}

	int iterations() {
		return this.iterations;
	}

}
