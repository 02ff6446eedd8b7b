package org.seriatim.record.domain;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalInt;

import org.seriatim.access.StaffId;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.FaceCount;
import org.seriatim.assessment.Region;

/** The count of a face on one day, with the name of who counted. */
public record Counted(FaceCount count, String assessor) {

	static List<Counted> all(List<CountEntry> entries) {
		record Key(LocalDate day, StaffId assessor, String name) {
		}
		var byDayAndAssessor = new LinkedHashMap<Key, Map<Region, Map<CountedType, Integer>>>();
		entries.forEach((entry) -> byDayAndAssessor
			.computeIfAbsent(new Key(entry.assessedOn(), entry.assessor(), entry.assessorName()),
					(key) -> new EnumMap<>(Region.class))
			.computeIfAbsent(entry.region(), (region) -> new EnumMap<>(CountedType.class))
			.put(entry.type(), entry.count()));
		return byDayAndAssessor.entrySet()
			.stream()
			.map((entry) -> new Counted(
					new FaceCount(entry.getKey().day(), entry.getKey().assessor(), entry.getValue()),
					entry.getKey().name()))
			.toList();
	}

	public LocalDate on() {
		return this.count.assessedOn();
	}

	/** Whether it is complete, and so has an ECCA score. */
	public boolean isComplete() {
		return this.count.missing() == 0;
	}

	/** Scars of one type in all regions that were counted; empty where none was. */
	public OptionalInt of(CountedType type) {
		return this.count.counts()
			.values()
			.stream()
			.filter((types) -> types.containsKey(type))
			.mapToInt((types) -> types.get(type))
			.reduce(Integer::sum);
	}

	/** Number of regions in which the type was counted. */
	public int regionsOf(CountedType type) {
		return (int) this.count.counts().values().stream().filter((types) -> types.containsKey(type)).count();
	}

}
