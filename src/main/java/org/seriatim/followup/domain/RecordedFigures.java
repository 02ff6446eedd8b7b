package org.seriatim.followup.domain;

import java.time.LocalDate;
import java.util.Locale;
import java.util.UUID;

import org.seriatim.access.StaffId;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.RatedDepth;
import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.ClinicLumps;
import org.seriatim.finding.LumpCurve;
import org.seriatim.patient.PatientId;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Computes the clinic's figures from the record as it was known on a day.
 */
@Component
class RecordedFigures {

	private final JdbcClient database;

	private final ClinicLumps lumps;

	RecordedFigures(JdbcClient database, ClinicLumps lumps) {
		this.database = database;
		this.lumps = lumps;
	}

	ClinicFigures asOf(LocalDate day) {
		return new ClinicFigures(curve(day), ratings(day));
	}

	private LumpCurve curve(LocalDate day) {
		return LumpCurve.of(this.lumps.asOf(day)
			.stream()
			.map((lump) -> new LumpCurve.OfPatient(lump.patient(), lump.duration()))
			.toList());
	}

	/** Only scars rated more than once on a day can make a pair. */
	private RepeatedRatings ratings(LocalDate day) {
		return RepeatedRatings.among(this.database.sql("""
				select patient_id, scar_id, assessed_on, assessor_id, repeat, depth_mm, depth_method
				from (
					select *, count(*) over (partition by scar_id, assessed_on) as ratings
					from scar_assessment
					where depth_mm is not null and assessed_on <= :day) rated
				where ratings > 1
				order by scar_id, assessed_on, id""").param("day", day).query((row, index) -> {
			var method = row.getString("depth_method");
			return new RatedDepth(new PatientId(row.getObject("patient_id", UUID.class)),
					new ScarId(row.getObject("scar_id", UUID.class)), row.getObject("assessed_on", LocalDate.class),
					new StaffId(row.getObject("assessor_id", UUID.class)), row.getInt("repeat") == 1,
					row.getBigDecimal("depth_mm").doubleValue(),
					(method != null) ? DepthMethod.valueOf(method.toUpperCase(Locale.ROOT)) : null);
		}).list());
	}

}
