package org.seriatim.finding;

import java.util.Locale;

import jakarta.persistence.EnumeratedValue;

/** Kind of an adverse finding. */
public enum FindingKind {

	LUMP, DELAYED_INFLAMMATORY_NODULE, GRANULOMA, SWELLING_EXPECTED, SWELLING_PROLONGED, BRUISE, ERYTHEMA, PAIN,
	INFECTION_LOCAL, INFECTION_SPREADING, HERPES_REACTIVATION, PIH, HYPOPIGMENTATION, VASCULAR_COMPROMISE,
	VISUAL_SYMPTOM, NEURO_SYMPTOM, SKIN_NECROSIS, ALLERGY_LOCAL, ANAPHYLAXIS, LA_TOXICITY, METHAEMOGLOBINAEMIA, SYNCOPE,
	PARAESTHESIA, BURN, FAT_LOSS, NEW_SCAR, ACNE_FLARE, OTHER;

	@EnumeratedValue
	private final String word = name().toLowerCase(Locale.ROOT);

	/** Kinds that may be an emergency whenever they are reported. */
	public boolean isRedFlag() {
		return switch (this) {
			case INFECTION_SPREADING, VASCULAR_COMPROMISE, VISUAL_SYMPTOM, NEURO_SYMPTOM, SKIN_NECROSIS, ANAPHYLAXIS,
					LA_TOXICITY, METHAEMOGLOBINAEMIA ->
				true;
			default -> false;
		};
	}

	/**
	 * Kinds that hold further treatment while a practitioner has not closed them, red
	 * flags included.
	 */
	public boolean holdsTreatment() {
		return isRedFlag() || switch (this) {
			case INFECTION_LOCAL, HERPES_REACTIVATION, DELAYED_INFLAMMATORY_NODULE, GRANULOMA, BURN, ALLERGY_LOCAL ->
				true;
			default -> false;
		};
	}

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

}
