package org.seriatim.record;

import java.util.UUID;

import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Invented records of a given length, written by set-based statements: a patient with any
 * number of tracked scars and sessions, assessed before and after each, with everything
 * that a series' page shows.
 */
public final class LongRecord {

	private LongRecord() {
	}

	/**
	 * Patients with one open series each, whose record numbers begin with a prefix.
	 * @param patients how many
	 * @param scars tracked scars of each
	 * @param sessions sessions of each, six weeks apart, the last one on 2026-09-20
	 */
	public static void insert(JdbcClient database, String prefix, int patients, int scars, int sessions) {
		database.sql("insert into staff (name) values ('l.rater') on conflict do nothing").update();
		for (String statement : STATEMENTS.split(";")) {
			var sql = database.sql(statement).param("prefix", prefix);
			for (var number : new Object[][] { { "patients", patients }, { "scars", scars },
					{ "sessions", sessions } }) {
				if (statement.contains(":" + number[0])) {
					sql = sql.param((String) number[0], number[1]);
				}
			}
			sql.update();
		}
	}

	/** The series of the first of these patients. */
	public static UUID firstSeries(JdbcClient database, String prefix) {
		return database.sql("""
				select series.id from series join patient on patient.id = patient_id
				where record_number like :prefix || '%' order by record_number limit 1""")
			.param("prefix", prefix)
			.query(UUID.class)
			.single();
	}

	private static final String STATEMENTS = """
			insert into patient (record_number, family_name, given_name, phototype, skin_thickness)
			select :prefix || lpad(n::text, 6, '0'), 'Family' || n, 'Given' || n, 1 + n % 6, 'medium'
			from generate_series(1, :patients) n;

			insert into series (patient_id, number, goal, planned_sessions, status, protocol_version)
			select id, 1, 'cheeks', 12, 'open', 1 from patient where record_number like :prefix || '%';

			insert into session (patient_id, series_id, number, treated_on, practitioner_id, combination, pain_nrs, massage)
			select p.id, s.id, k, date '2026-09-20' - 42 * (:sessions - k), (select id from staff where name = 'l.rater'),
				'none', k % 8, true
			from patient p join series s on s.patient_id = p.id, generate_series(1, :sessions) k
			where record_number like :prefix || '%';

			insert into scar (patient_id, label, region, type, map_x, map_y, first_recorded_on)
			select p.id, 'S' || n, (array['nose', 'chin', 'cheek_medial_left', 'cheek_medial_right', 'forehead'])[1 + n % 5],
				(array['ice_pick', 'boxcar', 'rolling'])[1 + n % 3], 0.2 + 0.6 * n / (:scars + 1.0), 0.3 + 0.01 * n, date '2025-01-01'
			from patient p, generate_series(1, :scars) n
			where record_number like :prefix || '%';

			insert into scar_assessment (patient_id, scar_id, assessed_on, assessor_id, length_mm, width_mm, depth_mm,
				depth_method, severity, response)
			select p.id, c.id, t.treated_on, (select id from staff where name = 'l.rater'), 3.2, 2.1,
				round((0.9 - 0.05 * t.number + 0.01 * (length(c.label) % 3))::numeric, 2), 'gauge', 2, 1
			from patient p join scar c on c.patient_id = p.id join session t on t.patient_id = p.id
			where record_number like :prefix || '%';

			insert into scar_assessment (patient_id, scar_id, assessed_on, assessor_id, length_mm, width_mm, depth_mm,
				depth_method, severity, response)
			select p.id, c.id, date '2026-11-01', (select id from staff where name = 'l.rater'), 3.2, 2.1, 0.2, 'gauge', 1, 3
			from patient p join scar c on c.patient_id = p.id
			where record_number like :prefix || '%';

			insert into preparation (session_id, number, product, lot, stock_drawn_ml, added_diluent_ml, lidocaine_percent,
				lidocaine_ml, discarded_ml)
			select t.id, 1, 'biostimulator A', 'L1', 3, 0.5, 2, 0.5, 0.1
			from session t join patient p on p.id = t.patient_id
			where record_number like :prefix || '%';

			insert into injection (patient_id, session_id, number, preparation_id, region, scar_id, target, layer, points,
				volume_ml, needle_gauge, pain_nrs)
			select p.id, t.id, row_number() over (partition by t.id order by c.label), r.id, c.region, c.id, 'scar',
				(array['superficial_dermis', 'mid_dermis', 'deep_dermis'])[1 + t.number % 3], 4, 0.05, 30, t.number % 7
			from patient p join session t on t.patient_id = p.id join preparation r on r.session_id = t.id
				join scar c on c.patient_id = p.id
			where record_number like :prefix || '%';

			insert into finding (code, patient_id, session_id, kind, region, scar_id, first_noted_on, grade, serious)
			select 'F' || t.id || c.label, p.id, t.id, 'lump', c.region, c.id, t.treated_on + 1, 1, false
			from patient p join session t on t.patient_id = p.id join scar c on c.patient_id = p.id
			where record_number like :prefix || '%' and c.label in ('S1', 'S2', 'S3');

			insert into finding_observation (finding_id, observed_on, reporter, channel, present)
			select f.id, f.first_noted_on + 2 + d, 'patient', 'phone', d < 7
			from finding f join patient p on p.id = f.patient_id, unnest(array[0, 3, 7]) d
			where record_number like :prefix || '%';

			insert into contact (patient_id, session_id, contacted_on, channel, outcome, lumps_present, pain_nrs, note)
			select p.id, t.id, t.treated_on + d, 'phone', 'reached', d < 7, 1, 'as expected'
			from patient p join session t on t.patient_id = p.id, unnest(array[1, 3, 7, 15]) d
			where record_number like :prefix || '%';

			insert into pore_assessment (patient_id, region, assessed_on, assessor_id, grade, pores_per_cm2)
			select p.id, r, t.treated_on, (select id from staff where name = 'l.rater'), 3 - t.number % 3, 120 - t.number
			from patient p join session t on t.patient_id = p.id,
				unnest(array['nose', 'chin', 'forehead', 'cheek_medial_left', 'cheek_medial_right']) r
			where record_number like :prefix || '%';

			insert into global_assessment (patient_id, assessed_on, assessor_id, scale, item, value)
			select p.id, t.treated_on, (select id from staff where name = 'l.rater'), 'sat-0-10', 'patient', t.number % 11
			from patient p join session t on t.patient_id = p.id
			where record_number like :prefix || '%';

			insert into scar_count (patient_id, region, type, assessed_on, assessor_id, count)
			select p.id, r, y, t.treated_on, (select id from staff where name = 'l.rater'), 2
			from patient p join session t on t.patient_id = p.id and t.number = 1,
				unnest(enum_range_of_face()) r,
				unnest(array['ice_pick', 'boxcar', 'rolling', 'elastolysis', 'hypertrophic', 'keloid']) y
			where record_number like :prefix || '%'
			"""
		.replace("enum_range_of_face()",
				"""
						array['forehead', 'glabella', 'temple_left', 'temple_right', 'periorbital_left', 'periorbital_right', 'nose',
							'cheek_medial_left', 'cheek_medial_right', 'cheek_lateral_left', 'cheek_lateral_right', 'nasolabial_left',
							'nasolabial_right', 'perioral', 'chin', 'jawline_left', 'jawline_right']""");

}
