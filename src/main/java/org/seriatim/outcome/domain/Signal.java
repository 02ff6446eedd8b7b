package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.Locale;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embeddable;
import jakarta.persistence.Embedded;
import jakarta.persistence.EnumType;
import jakarta.persistence.EnumeratedValue;
import jakarta.persistence.Enumerated;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.finding.FindingKind;

/**
 * What a chart said when a review was opened: more or fewer findings than chance
 * explains. A reason to look, and no verdict.
 *
 * @param practitioner where the unit is one
 * @param lot where the unit is one
 * @param from first day of the sessions that were counted, none for no limit
 * @param to last day of the sessions that were counted, none for no limit
 * @param sessions of the unit
 * @param withFinding of these
 * @param clinicRate what they were compared with
 */
@Embeddable
public record Signal(@Enumerated(EnumType.STRING) @Column(name = "chart") Chart chart,
		@Enumerated(EnumType.STRING) @Column(name = "kind") FindingKind kind,
		@Enumerated(EnumType.STRING) @Column(name = "unit") Unit unit,
		@Embedded @AttributeOverride(name = "value",
				column = @Column(name = "practitioner_id")) @Nullable StaffId practitioner,
		@Nullable @Column(name = "lot") String lot, @Nullable @Column(name = "period_from") LocalDate from,
		@Nullable @Column(name = "period_to") LocalDate to, @Column(name = "sessions") int sessions,
		@Column(name = "sessions_with_finding") int withFinding, @Column(name = "clinic_rate") double clinicRate) {

	/** The chart that signalled. */
	public enum Chart {

		FUNNEL, CUSUM;

		@EnumeratedValue
		private final String word = name().toLowerCase(Locale.ROOT);

		/** The word in addresses and in the database. */
		public String word() {
			return this.word;
		}

	}

	/** Whose rate it was. */
	public enum Unit {

		CLINIC, PRACTITIONER, LOT;

		@EnumeratedValue
		private final String word = name().toLowerCase(Locale.ROOT);

		/** The word in addresses and in the database. */
		public String word() {
			return this.word;
		}

	}

}
