package org.seriatim.assessment;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** The eighteen regions; left and right are the patient's. */
public enum Region {

	FOREHEAD, GLABELLA, TEMPLE_LEFT, TEMPLE_RIGHT, PERIORBITAL_LEFT, PERIORBITAL_RIGHT, NOSE, CHEEK_MEDIAL_LEFT,
	CHEEK_MEDIAL_RIGHT, CHEEK_LATERAL_LEFT, CHEEK_LATERAL_RIGHT, NASOLABIAL_LEFT, NASOLABIAL_RIGHT, PERIORAL, CHIN,
	JAWLINE_LEFT, JAWLINE_RIGHT, NECK;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** Whether it counts towards scores of the face; the neck does not. */
	public boolean isOfFace() {
		return this != NECK;
	}

	/**
	 * Regions with vessels whose occlusion has led to loss of sight (Kato, Matayoshi, Arq
	 * Bras Oftalmol, doi 10.5935/0004-2749.20220048, for glabella and nose).
	 */
	public boolean hasVessels() {
		return switch (this) {
			case GLABELLA, NOSE, NASOLABIAL_LEFT, NASOLABIAL_RIGHT -> true;
			default -> false;
		};
	}

	/**
	 * Regions whose dermis is about two thirds of the cheek's (Meng 2022, BMC Med Imaging
	 * 22, 113), so that lumps show more.
	 */
	public boolean hasThinSkin() {
		return this == PERIORBITAL_LEFT || this == PERIORBITAL_RIGHT;
	}

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
