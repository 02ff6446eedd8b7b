package org.seriatim.treatment.domain;

import java.util.Locale;

/** What a clinic may have a usual range of, in the order in which a session meets it. */
public enum UsualMeasure {

	/** Diluent into one vial. */
	DILUENT_ML("mL"),
	/** Time of the topical anaesthetic. */
	TOPICAL_MINUTES("min"),
	/** All that was injected. */
	WHOLE_FACE_ML("mL"),
	/** Into both cheek regions of one side. */
	CHEEK_SIDE_ML("mL"),
	/** Into one region that is no cheek. */
	AREA_ML("mL"),
	/** Into one point. */
	POINT_ML("mL"),
	/** Points for one scar. */
	SCAR_POINTS(""),
	/** Distance between neighbouring points for pores. */
	SPACING_MM("mm"),
	/** Gauge of the needle. */
	NEEDLE_GAUGE("G"),
	/** Length of the needle. */
	NEEDLE_MM("mm"),
	/** Of the needle to the skin. */
	ANGLE_DEGREES("°");

	private final String unit;

	UsualMeasure(String unit) {
		this.unit = unit;
	}

	/** The word in the database and in message keys. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

	/** Unit of its figures, empty for a count. */
	public String unit() {
		return this.unit;
	}

}
