package org.seriatim.treatment.domain;

import java.math.BigDecimal;

import jakarta.persistence.Embeddable;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.Combination;

/**
 * What holds for a session as a whole; {@code null} is unknown.
 *
 * @param weightKg body weight of that day
 * @param rfDepthMm depth of the radiofrequency microneedling
 * @param topicalMinutes how long the topical anaesthetic stayed on
 * @param painNrs 0 to 10, of the whole session
 */
@Embeddable
public record Circumstances(@Nullable BigDecimal weightKg,
		@Enumerated(EnumType.STRING) @Nullable Combination combination, @Nullable BigDecimal rfDepthMm,
		@Nullable Integer topicalMinutes, @Nullable Boolean oralAnalgesic, @Nullable Boolean vibration,
		@JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer painNrs, @Nullable Boolean massage) {

	static final Circumstances UNKNOWN = new Circumstances(null, null, null, null, null, null, null, null);

}
