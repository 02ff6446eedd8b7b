package org.seriatim.treatment;

import java.math.BigDecimal;
import java.util.Objects;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Embedded;
import org.jspecify.annotations.Nullable;

/**
 * What frames the injections of a session: the cream before, the check of each side and
 * the instructions after; {@code null} is unknown. None of it travels in the exchange
 * bundle.
 *
 * @param topicalGrams mass of the anaesthetic cream
 * @param topicalAreaCm2 area that it covered
 * @param right the patient's right
 * @param instructions what the patient was told, beyond what everybody is told
 */
@Embeddable
public record Aftercare(@Nullable BigDecimal topicalGrams,
		@Column(name = "topical_area_cm2") @Nullable BigDecimal topicalAreaCm2,
		@Embedded @AttributeOverride(name = "even", column = @Column(name = "right_even")) @AttributeOverride(
				name = "lumpFelt", column = @Column(name = "right_lump_felt")) @AttributeOverride(name = "compressed",
						column = @Column(name = "right_compressed")) @AttributeOverride(name = "massaged",
								column = @Column(name = "right_massaged")) @AttributeOverride(name = "ointment",
										column = @Column(name = "right_ointment")) @Nullable SideCheck right,
		@Embedded @AttributeOverride(name = "even", column = @Column(name = "middle_even")) @AttributeOverride(
				name = "lumpFelt", column = @Column(name = "middle_lump_felt")) @AttributeOverride(name = "compressed",
						column = @Column(name = "middle_compressed")) @AttributeOverride(name = "massaged",
								column = @Column(name = "middle_massaged")) @AttributeOverride(name = "ointment",
										column = @Column(name = "middle_ointment")) @Nullable SideCheck middle,
		@Embedded @AttributeOverride(name = "even", column = @Column(name = "left_even")) @AttributeOverride(
				name = "lumpFelt", column = @Column(name = "left_lump_felt")) @AttributeOverride(name = "compressed",
						column = @Column(name = "left_compressed")) @AttributeOverride(name = "massaged",
								column = @Column(name = "left_massaged")) @AttributeOverride(name = "ointment",
										column = @Column(name = "left_ointment")) @Nullable SideCheck left,
		@Nullable Boolean instructionsGiven, @Nullable String instructions) {

	/** Nothing of it is known. */
	public static final Aftercare UNKNOWN = new Aftercare(null, null, null, null, null, null, null);

	/** A side of which nothing is known comes back from the database as null. */
	public Aftercare {
		right = Objects.requireNonNullElse(right, SideCheck.UNKNOWN);
		middle = Objects.requireNonNullElse(middle, SideCheck.UNKNOWN);
		left = Objects.requireNonNullElse(left, SideCheck.UNKNOWN);
	}

	/** The cream, with how long it stayed on. */
	TopicalAnaesthetic topical(@Nullable Integer minutes) {
		return new TopicalAnaesthetic(this.topicalGrams, this.topicalAreaCm2, minutes);
	}

}
