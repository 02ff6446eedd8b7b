package org.seriatim.treatment;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;

/**
 * How one vial was handled around what was mixed; {@code null} is unknown. None of it
 * travels in the exchange bundle.
 *
 * @param hyaluronicMg hyaluronic acid in the vial, in milligrams, beside the dry
 * substance
 * @param reconstitutedAt when the diluent went into the vial
 * @param firstUsedAt when the first of it was injected, never before the reconstitution
 * @param syringes syringes filled from the vial
 * @param vialFate what became of what stayed in the vial
 * @param discardReason why something of the mixture was not injected
 * @param expiredReason why an expired lot was used all the same
 * @param balanceReason why the volumes do not add up
 */
@Embeddable
public record Handling(@Nullable BigDecimal hyaluronicMg, @Nullable Instant reconstitutedAt,
		@Nullable Instant firstUsedAt, @JdbcTypeCode(SqlTypes.SMALLINT) @Nullable Integer syringes,
		@Enumerated(EnumType.STRING) @Nullable VialFate vialFate,
		@Enumerated(EnumType.STRING) @Nullable DiscardReason discardReason,
		@Column(length = 400) @Nullable String expiredReason, @Column(length = 400) @Nullable String balanceReason) {

	/** Nothing of it is known. */
	public static final Handling UNKNOWN = new Handling(null, null, null, null, null, null, null, null);

	/**
	 * How long it stood between reconstitution and first use; empty where a time is
	 * unknown.
	 */
	public Optional<Duration> waited() {
		return (this.reconstitutedAt != null && this.firstUsedAt != null)
				? Optional.of(Duration.between(this.reconstitutedAt, this.firstUsedAt)) : Optional.empty();
	}

}
