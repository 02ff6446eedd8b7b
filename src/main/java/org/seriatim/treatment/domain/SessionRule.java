package org.seriatim.treatment.domain;

/**
 * What a session must keep beyond the shape of its values.
 */
public enum SessionRule {

	/** The series has ended. */
	SERIES_ENDED,
	/** The day is after the end of the series. */
	AFTER_END_OF_SERIES,
	/** A stop item of the screening of that day is not cleared. */
	SCREENING_NOT_CLEARED,
	/** A caution of the screening of that day is neither cleared nor acknowledged. */
	CAUTION_NOT_CLEARED,
	/** The day is still to come. */
	IN_THE_FUTURE,
	/** Another session of the patient has the number. */
	NUMBER_TAKEN,
	/** A session with a lower number is of a later day. */
	BEFORE_EARLIER_NUMBER,
	/** A session with a higher number is of an earlier day. */
	AFTER_LATER_NUMBER,
	/** A depth of radiofrequency without radiofrequency. */
	DEPTH_WITHOUT_RADIOFREQUENCY,
	/** More was drawn than was in the vial. */
	STOCK_EXCEEDS_DILUENT,
	/** A volume of lidocaine without its strength. */
	LIDOCAINE_WITHOUT_STRENGTH,
	/** The lot had expired and nobody says why it was used. */
	EXPIRED_WITHOUT_REASON,
	/** The volumes do not add up and nobody says why. */
	VOLUME_UNEXPLAINED,
	/** The first use is before the reconstitution. */
	USED_BEFORE_RECONSTITUTION,
	/**
	 * The reconstitution or the first use is after the day of the session, or long
	 * before.
	 */
	TIME_FAR_FROM_THE_DAY,
	/** Something is said to be left in the vial, or nothing, against the volumes. */
	VIAL_FATE_CONTRADICTS,
	/** The injection names a preparation that the session has not. */
	UNKNOWN_PREPARATION,
	/** The scar is not one of the patient's. */
	SCAR_OF_ANOTHER_PATIENT,
	/** Pores have no scar. */
	SCAR_FOR_PORES

}
