package org.seriatim.finding.domain;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.OnsetClass;
import org.seriatim.finding.domain.FindingParticulars.Onset;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;

/**
 * The treatment that a finding may have followed from: the latest session in the same
 * region on or before its onset, and the earlier ones there, which stay linked. Without a
 * region, or where nobody injected there, it is the session that the finding is counted
 * from.
 *
 * @param latest the session from which the onset counts; none where nothing is known
 * @param earlier the other sessions in the region, the latest first
 * @param onset a day, or between two days
 */
public record RelatedTreatment(@Nullable RecordedSession latest, List<RecordedSession> earlier, @Nullable Region region,
		Onset onset) {

	public RelatedTreatment {
		earlier = List.copyOf(earlier);
	}

	/**
	 * @param sessions all of the patient's
	 * @param region of the finding, or of its scar
	 * @param counted the session that the finding is counted from, if it belongs to one
	 */
	public static RelatedTreatment of(List<RecordedSession> sessions, @Nullable Region region, @Nullable ScarId scar,
			Onset onset, @Nullable RecordedSession counted) {
		var there = sessions.stream()
			.filter((session) -> !session.treatedOn().isAfter(onset.last()))
			.filter((session) -> session.injections().stream().anyMatch((one) -> isThere(one, region, scar)))
			.sorted(Comparator.comparing(RecordedSession::treatedOn).thenComparing(RecordedSession::number).reversed())
			.toList();
		return there.isEmpty() ? new RelatedTreatment(counted, List.of(), region, onset)
				: new RelatedTreatment(there.get(0), there.subList(1, there.size()), region, onset);
	}

	private static boolean isThere(RecordedInjection injection, @Nullable Region region, @Nullable ScarId scar) {
		return injection.region() == region || (scar != null && scar.equals(injection.scar()));
	}

	/**
	 * What was injected there in the latest session: the preparations that its injections
	 * into the region say, or else all of the session.
	 */
	public List<RecordedPreparation> preparations() {
		if (this.latest == null) {
			return List.of();
		}
		var used = this.latest.injections()
			.stream()
			.filter((injection) -> injection.region() == this.region && injection.preparation() != null)
			.map(RecordedInjection::preparation)
			.toList();
		return this.latest.preparations()
			.stream()
			.filter((preparation) -> used.isEmpty() || used.contains(preparation.id()))
			.toList();
	}

	/** Days from the latest session to the first day on which it can have begun. */
	public Optional<Long> firstDay() {
		return daysTo(this.onset.first());
	}

	/** Days from the latest session to the last day on which it can have begun. */
	public Optional<Long> lastDay() {
		return daysTo(this.onset.last());
	}

	/**
	 * The classes that its onset can belong to: one, or two where a limit lies between.
	 */
	public Set<OnsetClass> classes() {
		var classes = new LinkedHashSet<OnsetClass>();
		firstDay().map(OnsetClass::of).ifPresent(classes::add);
		lastDay().map(OnsetClass::of).ifPresent(classes::add);
		return classes;
	}

	private Optional<Long> daysTo(LocalDate day) {
		return Optional.ofNullable(this.latest)
			.map((session) -> Math.max(0, ChronoUnit.DAYS.between(session.treatedOn(), day)));
	}

}
