package org.seriatim.finding;

import java.util.Locale;

/**
 * An alarming sign that a patient tells or somebody sees. Any single one is enough to
 * raise the caution; which of them means what is for a clinician to say.
 * <p>
 * Sources: King et al., J Clin Aesthet Dermatol 2020;13:E53–E58; Murray et al.,
 * 2021;14:E61–E69; Walker et al., 2021;14:E84–E94 (list of signs from a secondary
 * source).
 */
public enum RedFlagSign {

	/** Any visual symptom. */
	VISION(FindingKind.VISUAL_SYMPTOM),
	/** Eye pain, a drooping lid, an eye that does not move. */
	EYE(FindingKind.VISUAL_SYMPTOM),
	/** A sign as of a stroke. */
	STROKE(FindingKind.NEURO_SYMPTOM),
	/** Airway, breathing or circulation. */
	BREATHING(FindingKind.ANAPHYLAXIS),
	/** A sign of anaesthetic toxicity. */
	ANAESTHETIC(FindingKind.LA_TOXICITY),
	/** Blanching that stays; never the short whitening at the tip of the needle. */
	BLANCHING(FindingKind.VASCULAR_COMPROMISE),
	/** Livedo or mottling. */
	MOTTLING(FindingKind.VASCULAR_COMPROMISE),
	/** Pain out of proportion, or growing. */
	PAIN(FindingKind.VASCULAR_COMPROMISE),
	/** Capillaries that refill more slowly than on the other side. */
	REFILL(FindingKind.VASCULAR_COMPROMISE),
	/** Cool or dusky skin. */
	COOL(FindingKind.VASCULAR_COMPROMISE),
	/** Blisters along the territory of a vessel. */
	BLISTERS(FindingKind.VASCULAR_COMPROMISE),
	/** Fever, or redness that spreads fast, above all around the eye. */
	FEVER(FindingKind.INFECTION_SPREADING),
	/** A blue-grey colour after a topical anaesthetic. */
	BLUE_GREY(FindingKind.METHAEMOGLOBINAEMIA);

	private final FindingKind kind;

	RedFlagSign(FindingKind kind) {
		this.kind = kind;
	}

	/** The kind under which it is recorded until a clinician knows better. */
	public FindingKind kind() {
		return this.kind;
	}

	/** The word in the database. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

}
