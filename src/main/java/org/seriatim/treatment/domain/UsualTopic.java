package org.seriatim.treatment.domain;

import java.util.EnumSet;
import java.util.Locale;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.treatment.Target;

/** What a clinic may have a note on, and where the note belongs. */
public enum UsualTopic {

	/** Mixing with the diluent. */
	DILUTION,
	/** Adding an anaesthetic. */
	LIDOCAINE,
	/** In which order the face is treated. */
	ORDER,
	/** What makes it bearable. */
	COMFORT,
	/** What shows that the layer is right. */
	RIGHT_LAYER,
	/** What shows that it is not. */
	WRONG_LAYER,
	/** A small scar. */
	SMALL_SCAR(Target.SCAR),
	/** Pores of a region. */
	PORES(Target.PORES),
	/** Around the eyes. */
	PERIORBITAL(Region.PERIORBITAL_LEFT, Region.PERIORBITAL_RIGHT),
	/** The cheeks. */
	CHEEK(Region.CHEEK_MEDIAL_LEFT, Region.CHEEK_MEDIAL_RIGHT, Region.CHEEK_LATERAL_LEFT, Region.CHEEK_LATERAL_RIGHT),
	/** Between the brows. */
	GLABELLA(Region.GLABELLA),
	/** The folds beside the nose. */
	FOLD(Region.NASOLABIAL_LEFT, Region.NASOLABIAL_RIGHT),
	/** After a side is done. */
	AFTER_A_SIDE,
	/** With a device. */
	COMBINATION;

	private final Set<Region> regions;

	private final @Nullable Target target;

	UsualTopic(Region... regions) {
		this.regions = EnumSet.noneOf(Region.class);
		this.regions.addAll(Set.of(regions));
		this.target = null;
	}

	UsualTopic(Target target) {
		this.regions = EnumSet.noneOf(Region.class);
		this.target = target;
	}

	/** The word in the database and in message keys. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

	/** Whether it is about the whole sitting and not about a place or a target. */
	public boolean isGeneral() {
		return this.regions.isEmpty() && this.target == null;
	}

	/** Whether it is about injections for this target into this region. */
	public boolean isAbout(Region region, Target aim) {
		return this.regions.contains(region) || this.target == aim;
	}

}
