package org.seriatim.assessment.domain;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarType;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** On which days a patient was assessed, and what was entered of one day. */
@Service
@Transactional(readOnly = true)
public class AssessedDays {

	private final JdbcClient database;

	AssessedDays(JdbcClient database) {
		this.database = database;
	}

	/** How much one assessor has entered of one day. */
	public record Summary(LocalDate day, StaffId assessor, String assessorName, int scars, int repeats, int pores,
			int scales, int counts) {
	}

	/**
	 * One rating of a scar.
	 *
	 * @param versions how many earlier versions there are
	 */
	public record ScarReading(UUID id, long versions, StaffId assessor, boolean repeat, ScarId scar, String label,
			Region region, ScarType type, ScarMeasurement measured) {
	}

	/** The pores of one region. */
	public record PoreReading(UUID id, long versions, StaffId assessor, Region region, PoreFinding finding) {
	}

	/**
	 * One number of a scale; scale and item as they are stored, which may be a clinic's
	 * own.
	 */
	public record ScaleReading(UUID id, long versions, StaffId assessor, String scale, String item, BigDecimal value) {
	}

	/** One number of a count. */
	public record CountReading(UUID id, long versions, StaffId assessor, Region region, CountedType type, int count) {
	}

	/** The latest day first, of one day by name of the assessor. */
	public List<Summary> of(PatientId patient) {
		return this.database
			.sql("""
					with entry(day, assessor, kind) as (
						select assessed_on, assessor_id, case repeat when 0 then 'scar' else 'repeat' end
							from scar_assessment where patient_id = :patient
						union all select assessed_on, assessor_id, 'pore' from pore_assessment where patient_id = :patient
						union all select assessed_on, assessor_id, 'scale' from global_assessment where patient_id = :patient
						union all select assessed_on, assessor_id, 'count' from scar_count where patient_id = :patient)
					select day, assessor, name, count(*) filter (where kind = 'scar') as scars,
						count(*) filter (where kind = 'repeat') as repeats, count(*) filter (where kind = 'pore') as pores,
						count(*) filter (where kind = 'scale') as scales, count(*) filter (where kind = 'count') as counts
					from entry join staff on staff.id = assessor
					group by day, assessor, name
					order by day desc, name""")
			.param("patient", patient.value())
			.query((row, number) -> new Summary(row.getObject("day", LocalDate.class), staff(row, "assessor"),
					row.getString("name"), row.getInt("scars"), row.getInt("repeats"), row.getInt("pores"),
					row.getInt("scales"), row.getInt("counts")))
			.list();
	}

	/** First ratings and repeats, by label. */
	public List<ScarReading> scarsOn(PatientId patient, LocalDate day) {
		return this.database
			.sql("""
					select a.id, a.version, a.assessor_id, a.repeat, a.scar_id, s.label, s.region, s.type, a.length_mm, a.width_mm,
						a.depth_mm, a.depth_method, a.depth_class, a.severity, a.response
					from scar_assessment a join scar s on s.id = a.scar_id
					where a.patient_id = :patient and a.assessed_on = :day
					order by regexp_replace(s.label, '[0-9]+$', ''), substring(s.label from '[0-9]+$')::numeric nulls first, s.label""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row, number) -> new ScarReading(row.getObject("id", UUID.class), row.getLong("version"),
					staff(row, "assessor_id"), row.getInt("repeat") == 1,
					new ScarId(row.getObject("scar_id", UUID.class)), row.getString("label"),
					required(Region.class, row.getString("region")), required(ScarType.class, row.getString("type")),
					measurement(row)))
			.list();
	}

	public List<PoreReading> poresOn(PatientId patient, LocalDate day) {
		return this.database.sql("""
				select id, version, assessor_id, region, grade, pores_per_cm2 from pore_assessment
				where patient_id = :patient and assessed_on = :day""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row, number) -> new PoreReading(row.getObject("id", UUID.class), row.getLong("version"),
					staff(row, "assessor_id"), required(Region.class, row.getString("region")),
					new PoreFinding(row.getObject("grade", Integer.class), row.getBigDecimal("pores_per_cm2"))))
			.list();
	}

	public List<ScaleReading> scalesOn(PatientId patient, LocalDate day) {
		return this.database.sql("""
				select id, version, assessor_id, scale, item, value from global_assessment
				where patient_id = :patient and assessed_on = :day
				order by scale, item""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row, number) -> new ScaleReading(row.getObject("id", UUID.class), row.getLong("version"),
					staff(row, "assessor_id"), row.getString("scale"), row.getString("item"),
					row.getBigDecimal("value")))
			.list();
	}

	public List<CountReading> countsOn(PatientId patient, LocalDate day) {
		return this.database.sql("""
				select id, version, assessor_id, region, type, count from scar_count
				where patient_id = :patient and assessed_on = :day""")
			.param("patient", patient.value())
			.param("day", day)
			.query((row, number) -> new CountReading(row.getObject("id", UUID.class), row.getLong("version"),
					staff(row, "assessor_id"), required(Region.class, row.getString("region")),
					required(CountedType.class, row.getString("type")), row.getInt("count")))
			.list();
	}

	static ScarMeasurement measurement(ResultSet row) throws SQLException {
		return new ScarMeasurement(row.getBigDecimal("length_mm"), row.getBigDecimal("width_mm"),
				row.getBigDecimal("depth_mm"), constant(DepthMethod.class, row.getString("depth_method")),
				constant(DepthClass.class, row.getString("depth_class")), row.getObject("severity", Integer.class),
				row.getObject("response", Integer.class));
	}

	private static StaffId staff(ResultSet row, String column) throws SQLException {
		return new StaffId(row.getObject(column, UUID.class));
	}

	private static <E extends Enum<E>> E required(Class<E> type, String word) {
		return Enum.valueOf(type, word.toUpperCase(Locale.ROOT));
	}

	private static <E extends Enum<E>> @Nullable E constant(Class<E> type, @Nullable String word) {
		return (word != null) ? required(type, word) : null;
	}

}
