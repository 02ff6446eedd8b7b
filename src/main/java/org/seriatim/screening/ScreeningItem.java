package org.seriatim.screening;

import java.util.Locale;

import org.jspecify.annotations.Nullable;

/**
 * What the list of every clinic asks before a session, with the levels, the days of
 * validity and the times of asking that it starts with. The clinic's own list, in
 * versions, is the {@link ScreeningList}. What an item rests on stands in the messages
 * {@code screening.basis.*} and in {@code docs/clinical.md}.
 */
public enum ScreeningItem {

	INFECTION_SITE(Level.STOP, 1, Asked.EVERY_SESSION), INFECTION_SYSTEMIC(Level.STOP, 1, Asked.EVERY_SESSION),
	ACTIVE_ACNE_SEVERE(Level.CAUTION, 7, Asked.EVERY_SESSION),
	KELOID_TENDENCY(Level.STOP, 365, Asked.BASELINE_AND_YEARLY), PREGNANCY(Level.STOP, 1, Asked.EVERY_SESSION),
	LACTATION(Level.CAUTION, 28, Asked.EVERY_SESSION), ISOTRETINOIN(Level.CAUTION, 28, Asked.EVERY_SESSION),
	IMMUNE_DISEASE(Level.CAUTION, 180, Asked.BASELINE_AND_HALF_YEARLY),
	IMMUNOSUPPRESSION(Level.CAUTION, 90, Asked.EVERY_SESSION), BLEEDING(Level.CAUTION, 28, Asked.EVERY_SESSION),
	ALLERGY_AMIDE(Level.STOP, 365, Asked.BASELINE_AND_YEARLY),
	ALLERGY_PRODUCT(Level.STOP, 365, Asked.BASELINE_AND_YEARLY),
	METHAEMOGLOBIN(Level.STOP, 365, Asked.BASELINE_AND_YEARLY),
	CARDIAC_LIVER(Level.CAUTION, 180, Asked.BASELINE_AND_HALF_YEARLY),
	IMPLANTED_ELECTRONIC(Level.STOP, 365, Asked.IF_ENERGY_DEVICE),
	METAL_IN_FIELD(Level.CAUTION, 365, Asked.IF_ENERGY_DEVICE),
	PERMANENT_FILLER(Level.CAUTION, 365, Asked.BASELINE_AND_YEARLY),
	RECENT_PROCEDURE(Level.CAUTION, 28, Asked.EVERY_SESSION),
	PRIOR_FILLER_REACTION(Level.CAUTION, 365, Asked.BASELINE_AND_YEARLY),
	HERPES_HISTORY(Level.CAUTION, 365, Asked.BASELINE_AND_YEARLY), PIH_MELASMA(Level.CAUTION, 28, Asked.EVERY_SESSION),
	VACCINE_DENTAL_ILLNESS(Level.CAUTION, 14, Asked.EVERY_SESSION),
	BODY_IMAGE_CONCERN(Level.CAUTION, 180, Asked.BASELINE_AND_HALF_YEARLY),
	DIABETES_UNCONTROLLED(Level.CAUTION, 180, Asked.BASELINE_AND_HALF_YEARLY),
	SKIN_CANCER_SUSPECT(Level.STOP, 1, Asked.EVERY_SESSION), AGE_UNDER_18(Level.STOP, 1, Asked.EVERY_SESSION),
	CONSENT_MISSING(Level.STOP, 1, Asked.EVERY_SESSION);

	/** Version of the list that a clinic starts with, as it stands here. */
	public static final int FIRST_LIST = 1;

	private final Level level;

	private final int validDays;

	private final Asked asked;

	ScreeningItem(Level level, int validDays, Asked asked) {
		this.level = level;
		this.validDays = validDays;
		this.asked = asked;
	}

	/** What follows where an item is not cleared. */
	public enum Level {

		/** No session until a licensed clinician has decided, with a reason. */
		STOP,
		/** A licensed clinician must acknowledge it. */
		CAUTION

	}

	/** When an item is asked. */
	public enum Asked {

		EVERY_SESSION, BASELINE_AND_YEARLY, BASELINE_AND_HALF_YEARLY,
		/** At the start, and again when the answer no longer counts. */
		WHEN_LAPSED,
		/** Where radiofrequency is planned. */
		IF_ENERGY_DEVICE

	}

	public Level level() {
		return this.level;
	}

	/** An answer that is older than so many days must be asked again. */
	public int validDays() {
		return this.validDays;
	}

	public Asked asked() {
		return this.asked;
	}

	/** The word in the database. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

	/** The item that a word stands for; {@code null} for one that the list has not. */
	public static @Nullable ScreeningItem ofWord(@Nullable String word) {
		for (var item : values()) {
			if (item.word().equals(word)) {
				return item;
			}
		}
		return null;
	}

}
