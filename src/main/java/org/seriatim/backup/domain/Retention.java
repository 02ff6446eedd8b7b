package org.seriatim.backup.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.time.YearMonth;
import java.time.ZoneId;
import java.time.temporal.IsoFields;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.Function;

/**
 * Which backups are kept: the newest of each of the last days, of the last ISO weeks and
 * of the last months that have one. Periods without a backup don't count, so that nothing
 * goes by itself while none is made; and the newest of all always stays.
 *
 * @param daily how many days, at least 1
 * @param weekly how many weeks
 * @param monthly how many months
 */
record Retention(int daily, int weekly, int monthly) {

	/**
	 * @param zone in which days begin
	 * @return those of the moments that are kept
	 */
	Set<Instant> kept(Collection<Instant> made, ZoneId zone) {
		var newestFirst = made.stream().sorted(Comparator.reverseOrder()).toList();
		var kept = new HashSet<Instant>();
		keep(newestFirst, this.daily, (at) -> day(at, zone), kept);
		keep(newestFirst, this.weekly, (at) -> week(day(at, zone)), kept);
		keep(newestFirst, this.monthly, (at) -> YearMonth.from(day(at, zone)), kept);
		return kept;
	}

	private static void keep(List<Instant> newestFirst, int periods, Function<Instant, Object> period,
			Set<Instant> kept) {
		var seen = new HashSet<>();
		for (Instant at : newestFirst) {
			if (seen.size() < periods && seen.add(period.apply(at))) {
				kept.add(at);
			}
		}
	}

	private static LocalDate day(Instant at, ZoneId zone) {
		return LocalDate.ofInstant(at, zone);
	}

	private static List<Integer> week(LocalDate day) {
		return List.of(day.get(IsoFields.WEEK_BASED_YEAR), day.get(IsoFields.WEEK_OF_WEEK_BASED_YEAR));
	}

}
