package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What was last known before a day, for comparison while somebody assesses. What others
 * entered on the day itself is left out: a second assessor must not see the first one's
 * values, or their difference would say nothing of the error of measurement.
 */
@Service
@Transactional(readOnly = true)
public class EarlierAssessments {

	private final JdbcClient database;

	EarlierAssessments(JdbcClient database) {
		this.database = database;
	}

	/** First ratings only; of several on one day the one entered last. */
	public Map<ScarId, EarlierScar> scarsBefore(PatientId patient, LocalDate day) {
		var known = new HashMap<ScarId, EarlierScar>();
		this.database
			.sql("""
					select scar_id, assessed_on, length_mm, width_mm, depth_mm, depth_method, depth_class, severity, response
					from scar_assessment
					where patient_id = :patient and assessed_on < :day and repeat = 0
					order by assessed_on, recorded_at, id""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row) -> {
				var on = row.getObject("assessed_on", LocalDate.class);
				var scar = new ScarId(row.getObject("scar_id", UUID.class));
				known.put(scar, known.getOrDefault(scar, EarlierScar.on(on)).then(on, AssessedDays.measurement(row)));
			});
		return known;
	}

	/** How the patient's last depth before the day was obtained. */
	public Optional<DepthMethod> methodBefore(PatientId patient, LocalDate day) {
		return this.database.sql("""
				select depth_method from scar_assessment
				where patient_id = :patient and assessed_on < :day and depth_method is not null
				order by assessed_on desc, recorded_at desc, id desc limit 1""")
			.param("patient", patient.value())
			.param("day", day)
			.query(String.class)
			.optional()
			.map((word) -> DepthMethod.valueOf(word.toUpperCase(Locale.ROOT)));
	}

	public Map<Region, EarlierPores> poresBefore(PatientId patient, LocalDate day) {
		var known = new EnumMap<Region, EarlierPores>(Region.class);
		this.database.sql("""
				select region, assessed_on, grade, pores_per_cm2 from pore_assessment
				where patient_id = :patient and assessed_on < :day
				order by assessed_on, recorded_at, id""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row) -> {
				var finding = new PoreFinding(row.getObject("grade", Integer.class),
						row.getBigDecimal("pores_per_cm2"));
				var region = Region.valueOf(row.getString("region").toUpperCase(Locale.ROOT));
				known.put(region, known.getOrDefault(region, EarlierPores.NONE)
					.then(row.getObject("assessed_on", LocalDate.class), finding));
			});
		return known;
	}

	public Map<ScaleItem, Dated<BigDecimal>> scalesBefore(PatientId patient, LocalDate day) {
		var known = new HashMap<ScaleItem, Dated<BigDecimal>>();
		this.database.sql("""
				select scale, item, assessed_on, value from global_assessment
				where patient_id = :patient and assessed_on < :day
				order by assessed_on, recorded_at, id""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row) -> {
				var scale = row.getString("scale");
				var item = row.getString("item");
				var value = new Dated<>(row.getBigDecimal("value"), row.getObject("assessed_on", LocalDate.class));
				ScaleItem.of(scale, item).ifPresent((what) -> known.put(what, value));
			});
		return known;
	}

}
