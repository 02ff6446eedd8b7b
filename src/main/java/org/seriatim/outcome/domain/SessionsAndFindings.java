package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Function;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingKind;

/**
 * The sessions that a filter lets through and what was found after them, read once; by
 * whatever a page then tells them apart, it counts the same records.
 */
public final class SessionsAndFindings {

	private final List<Session> sessions;

	private final Map<UUID, List<Finding>> findings = new HashMap<>();

	private final @Nullable FindingKind kind;

	private final Function<ComplicationGrouping, Map<UUID, List<String>>> members;

	/**
	 * @param observed whether anybody looked afterwards
	 */
	record Session(UUID id, UUID patient, String practitioner, String phototype, LocalDate day, boolean observed) {
	}

	record Finding(UUID session, FindingKind kind, @Nullable String region, boolean unresolved) {
	}

	/**
	 * @param sessions in the order of time
	 * @param kind of all findings, or none if they are of all kinds
	 * @param members groups of each session, for groupings that its row does not tell
	 */
	SessionsAndFindings(List<Session> sessions, List<Finding> findings, @Nullable FindingKind kind,
			Function<ComplicationGrouping, Map<UUID, List<String>>> members) {
		this.sessions = sessions;
		findings.forEach(
				(finding) -> this.findings.computeIfAbsent(finding.session(), (id) -> new ArrayList<>()).add(finding));
		this.kind = kind;
		this.members = members;
	}

	/** Of one kind also where it was never found. */
	public SessionRates rates(ComplicationGrouping grouping) {
		var groups = groups(grouping);
		return SessionRates.of(followed(groups), found(grouping, groups),
				(this.kind != null) ? List.of(this.kind) : List.of());
	}

	private Function<Session, List<String>> groups(ComplicationGrouping grouping) {
		return switch (grouping) {
			case NONE -> (session) -> List.of("all");
			case PRACTITIONER -> (session) -> List.of(session.practitioner());
			case PHOTOTYPE -> (session) -> List.of(session.phototype());
			case PRODUCT, LOT, REGION -> {
				var known = this.members.apply(grouping);
				yield (session) -> known.getOrDefault(session.id(), List.of());
			}
		};
	}

	private record OfPatient(String group, String patient) implements Comparable<OfPatient> {

		@Override
		public int compareTo(OfPatient other) {
			int byGroup = this.group.compareTo(other.group);
			return (byGroup != 0) ? byGroup : this.patient.compareTo(other.patient);
		}

	}

	private List<SessionRates.Followed> followed(Function<Session, List<String>> groups) {
		var counts = new TreeMap<OfPatient, int[]>();
		for (Session session : this.sessions) {
			for (String group : groups.apply(session)) {
				var counted = counts.computeIfAbsent(new OfPatient(group, session.patient().toString()),
						(key) -> new int[2]);
				counted[0]++;
				counted[1] += session.observed() ? 0 : 1;
			}
		}
		var followed = new ArrayList<SessionRates.Followed>();
		counts.forEach((key, counted) -> followed
			.add(new SessionRates.Followed(key.group(), key.patient(), counted[0], counted[1])));
		return followed;
	}

	private static final class Counted {

		private final Set<UUID> sessions = new HashSet<>();

		private int findings;

		private int unresolved;

	}

	/** By region, a finding counts where it lies. */
	private List<SessionRates.Found> found(ComplicationGrouping grouping, Function<Session, List<String>> groups) {
		var counts = new TreeMap<OfPatient, TreeMap<FindingKind, Counted>>();
		for (Session session : this.sessions) {
			for (Finding finding : this.findings.getOrDefault(session.id(), List.of())) {
				for (String group : groups.apply(session)) {
					if (grouping != ComplicationGrouping.REGION || group.equals(finding.region())) {
						var counted = counts
							.computeIfAbsent(new OfPatient(group, session.patient().toString()),
									(key) -> new TreeMap<>())
							.computeIfAbsent(finding.kind(), (one) -> new Counted());
						counted.sessions.add(session.id());
						counted.findings++;
						counted.unresolved += finding.unresolved() ? 1 : 0;
					}
				}
			}
		}
		var found = new ArrayList<SessionRates.Found>();
		counts.forEach((key, kinds) -> kinds.forEach((one, counted) -> found.add(new SessionRates.Found(key.group(),
				key.patient(), one, counted.sessions.size(), counted.findings, counted.unresolved))));
		return found;
	}

	/** Session by session; units are the ids of practitioners. */
	public Surveillance surveillance(int falseAlarm) {
		return Surveillance.of(this.sessions.stream()
			.map((session) -> new Surveillance.Treated(session.practitioner(), session.day(),
					this.findings.containsKey(session.id())))
			.toList(), falseAlarm);
	}

}
