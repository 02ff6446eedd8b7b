package org.seriatim.treatment.domain;

/** The catalogue has this product, or this lot of it, already. */
public class AlreadyInCatalogue extends RuntimeException {

	AlreadyInCatalogue() {
		super("in the catalogue already");
	}

}
