package org.seriatim.assessment;

import java.time.LocalDate;

import org.jspecify.annotations.Nullable;

/**
 * A scar at one stage of a series: its depth on the last day of the stage that has one,
 * and its severity on the last day of the stage that has one.
 */
public record ScarState(@Nullable Depth depth, @Nullable Severity severity) {

	/**
	 * Mean of the depths of one day.
	 *
	 * @param measuredOn the day
	 * @param mm millimetres
	 * @param method the one method of all ratings of the day; none when it was not
	 * recorded or they differ, and then the depth is compared with no other
	 */
	public record Depth(LocalDate measuredOn, double mm, @Nullable DepthMethod method) {

		public boolean isComparableWith(Depth other) {
			return this.method != null && this.method == other.method;
		}

	}

	/**
	 * Mean of the severity grades of one day, 0 to 4.
	 */
	public record Severity(LocalDate judgedOn, double grade) {
	}

}
