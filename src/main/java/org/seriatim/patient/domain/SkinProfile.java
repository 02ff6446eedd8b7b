package org.seriatim.patient.domain;

import jakarta.persistence.Embeddable;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.patient.Sebum;
import org.seriatim.patient.SkinThickness;

/**
 * What a clinician judged of the skin.
 *
 * @param phototype 1 to 6, by sun reaction (Fitzpatrick TB, Arch Dermatol
 * 1988;124:869–871)
 */
@Embeddable
public record SkinProfile(@JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer phototype,
		@Enumerated(EnumType.STRING) @Nullable SkinThickness skinThickness,
		@Enumerated(EnumType.STRING) @Nullable Sebum sebum) {

	static final SkinProfile UNKNOWN = new SkinProfile(null, null, null);

	public SkinProfile {
		if (phototype != null && (phototype < 1 || phototype > 6)) {
			throw new IllegalArgumentException("phototype must be from 1 to 6, was " + phototype);
		}
	}

}
