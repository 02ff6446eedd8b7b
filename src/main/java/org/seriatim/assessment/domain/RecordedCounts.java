package org.seriatim.assessment.domain;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

import org.seriatim.access.StaffId;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.FaceCount;
import org.seriatim.assessment.FaceCounts;
import org.seriatim.assessment.Region;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class RecordedCounts implements FaceCounts {

	private final JdbcClient database;

	RecordedCounts(JdbcClient database) {
		this.database = database;
	}

	@Override
	@Transactional(readOnly = true)
	public List<FaceCount> of(PatientId patient) {
		var byDayAndAssessor = new LinkedHashMap<Key, Map<Region, Map<CountedType, Integer>>>();
		this.database.sql("""
				select assessed_on, assessor_id, region, type, count
				from scar_count join staff on staff.id = assessor_id
				where patient_id = :patient
				order by assessed_on, staff.name""").param("patient", patient.value()).query((row) -> {
			var key = new Key(row.getObject("assessed_on", LocalDate.class),
					new StaffId(row.getObject("assessor_id", UUID.class)));
			byDayAndAssessor.computeIfAbsent(key, (ignored) -> new EnumMap<>(Region.class))
				.computeIfAbsent(Region.valueOf(row.getString("region").toUpperCase(Locale.ROOT)),
						(ignored) -> new EnumMap<>(CountedType.class))
				.put(CountedType.valueOf(row.getString("type").toUpperCase(Locale.ROOT)), row.getInt("count"));
		});
		return byDayAndAssessor.entrySet()
			.stream()
			.map((entry) -> new FaceCount(entry.getKey().assessedOn(), entry.getKey().assessor(), entry.getValue()))
			.toList();
	}

	private record Key(LocalDate assessedOn, StaffId assessor) {
	}

}
