package org.seriatim.treatment.domain;

import java.math.BigDecimal;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Embedded;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.Target;

/**
 * What was placed where, and what was seen; {@code null} is unknown.
 *
 * @param scar the tracked scar that it went into, if one was labelled
 * @param volumeMl over all points
 * @param painNrs 0 to 10, while injecting
 */
@Embeddable
public record Placement(@Column(columnDefinition = "region") @Enumerated(EnumType.STRING) Region region,
		@Embedded @AttributeOverride(name = "value", column = @Column(name = "scar_id")) @Nullable ScarId scar,
		@Enumerated(EnumType.STRING) Target target, @Enumerated(EnumType.STRING) @Nullable Layer layer,
		@Nullable Integer points, @Nullable BigDecimal volumeMl, @Nullable Integer needleGauge,
		@Nullable BigDecimal needleMm, @Nullable Boolean blanching, @Nullable Boolean bleeding,
		@Nullable Boolean baseLifted, @Nullable Boolean lumpRaised, @Nullable Boolean secondDirection,
		@JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer painNrs) {
}
