package org.seriatim.appointment.domain;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;

import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;

/**
 * Searches the diary for free times: a function of values. Within each stretch of free
 * time the first visit begins where the stretch does, so that visits can stand back to
 * back, and further ones every quarter of an hour.
 */
final class SlotSearch {

	private static final Duration STEP = Duration.ofMinutes(15);

	/** Nobody is asked to come at seven minutes past nine. */
	private static final long WHOLE_SECONDS = 300;

	private SlotSearch() {
	}

	/**
	 * What is searched for.
	 *
	 * @param first first day
	 * @param target the nearer a time is to this day, the earlier it is proposed; of two
	 * days equally near the earlier one
	 * @param last last day
	 * @param length how long the visit takes
	 * @param notBefore moment before which nothing is proposed
	 * @param most how many times are proposed
	 */
	record Wanted(LocalDate first, LocalDate target, LocalDate last, Duration length, Instant notBefore, int most) {
	}

	/** Free times, the nearest to the target day first. */
	static List<FreeTime> search(Wanted wanted, Collection<StaffMember> practitioners, Openings openings,
			Map<StaffId, List<Span>> busy) {
		var found = new ArrayList<FreeTime>();
		for (var day : nearestFirst(wanted)) {
			practitioners.stream()
				.flatMap((practitioner) -> on(day, practitioner, wanted, openings,
						busy.getOrDefault(practitioner.id(), List.of()))
					.stream())
				.sorted(Comparator.comparing((FreeTime free) -> free.time().start())
					.thenComparing((free) -> free.practitioner().name()))
				.forEach(found::add);
			if (found.size() >= wanted.most()) {
				break;
			}
		}
		return List.copyOf(found.subList(0, Math.min(found.size(), wanted.most())));
	}

	private static List<LocalDate> nearestFirst(Wanted wanted) {
		return wanted.first()
			.datesUntil(wanted.last().plusDays(1))
			.sorted(Comparator.comparing((LocalDate day) -> Math.abs(ChronoUnit.DAYS.between(wanted.target(), day)))
				.thenComparing(Comparator.naturalOrder()))
			.toList();
	}

	private static List<FreeTime> on(LocalDate day, StaffMember practitioner, Wanted wanted, Openings openings,
			List<Span> busy) {
		var free = new ArrayList<FreeTime>();
		for (var open : openings.of(practitioner.id(), day)) {
			for (var gap : open.without(busy)) {
				var start = whole(gap.start().isBefore(wanted.notBefore()) ? wanted.notBefore() : gap.start());
				while (!start.plus(wanted.length()).isAfter(gap.end())) {
					free.add(new FreeTime(practitioner, Span.of(start, wanted.length())));
					start = start.plus(STEP);
				}
			}
		}
		return free;
	}

	private static Instant whole(Instant time) {
		var seconds = time.getEpochSecond() + ((time.getNano() > 0) ? 1 : 0);
		return Instant.ofEpochSecond(-Math.floorDiv(-seconds, WHOLE_SECONDS) * WHOLE_SECONDS);
	}

}
