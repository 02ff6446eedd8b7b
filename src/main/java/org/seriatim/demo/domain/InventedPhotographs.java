package org.seriatim.demo.domain;

import java.time.LocalDate;
import java.util.UUID;

import org.seriatim.assessment.MapPoint;
import org.seriatim.assessment.ScarId;
import org.seriatim.demo.domain.InventedDrawing.Pose;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.PhotographIntake;
import org.seriatim.photograph.PhotographIntake.Taken;
import org.seriatim.photograph.View;
import org.springframework.context.annotation.Profile;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Drawings in place of photographs for a few invented patients: the face and one scar,
 * each before the series and at its last session, where the scars show less. They come in
 * as any file does. The camera was held a little otherwise each time, and the landmarks
 * are set, so that the page of comparison has something to align.
 */
@Component
@Profile("demo")
class InventedPhotographs {

	/** Few, since the demo clinic is loaded before the first page is answered. */
	private static final int PATIENTS = 6;

	private static final String CAMERA = "Drawn, not taken";

	private static final Pose STRAIGHT = new Pose(0, 0, 0, 1);

	private static final Pose OTHERWISE = new Pose(0.03, -0.02, 4, 0.94);

	private final JdbcClient database;

	private final PhotographIntake photographs;

	InventedPhotographs(JdbcClient database, PhotographIntake photographs) {
		this.database = database;
		this.photographs = photographs;
	}

	/** A patient in treatment, from the first to the last session of the open series. */
	private record InTreatment(UUID id, LocalDate firstOn, LocalDate lastOn, int skin) {
	}

	/** A scar with its place. */
	private record Placed(UUID id, double x, double y) {
	}

	void add() {
		this.database.sql("""
				select s.patient_id as id, min(s.treated_on) as first_on, max(s.treated_on) as last_on,
					abs(hashtext(p.record_number)) % 4 as skin
				from session s join series c on c.id = s.series_id join patient p on p.id = s.patient_id
				where c.status = 'open'
					and exists (select from scar m where m.patient_id = p.id and m.map_x is not null)
				group by s.patient_id, p.record_number having max(s.treated_on) > min(s.treated_on)
				order by count(*) desc, p.record_number limit :patients""")
			.param("patients", PATIENTS)
			.query((row, index) -> new InTreatment(row.getObject("id", UUID.class),
					row.getObject("first_on", LocalDate.class), row.getObject("last_on", LocalDate.class),
					row.getInt("skin")))
			.list()
			.forEach(this::draw);
	}

	private void draw(InTreatment one) {
		var patient = new PatientId(one.id());
		var scars = this.database.sql("""
				select id, map_x, map_y from scar where patient_id = :patient and map_x is not null order by label""")
			.param("patient", one.id())
			.query((row, index) -> new Placed(row.getObject("id", UUID.class), row.getDouble("map_x"),
					row.getDouble("map_y")))
			.list();
		var places = scars.stream().map((scar) -> new MapPoint(scar.x(), scar.y())).toList();
		var close = new ScarId(scars.get(0).id());
		this.photographs.allow(patient, one.firstOn());
		keep(patient, new Taken(one.firstOn(), View.FRONT, LightSet.RAKING, null, 100, CAMERA),
				InventedDrawing.face(places, 0.9, one.skin(), STRAIGHT));
		keep(patient, new Taken(one.lastOn(), View.FRONT, LightSet.RAKING, null, 100, CAMERA),
				InventedDrawing.face(places, 0.45, one.skin(), OTHERWISE));
		keep(patient, new Taken(one.firstOn(), View.CLOSE, LightSet.RAKING, close, 25, CAMERA),
				InventedDrawing.closeView(0.9, one.skin(), OTHERWISE));
		keep(patient, new Taken(one.lastOn(), View.CLOSE, LightSet.RAKING, close, 25, CAMERA),
				InventedDrawing.closeView(0.45, one.skin(), STRAIGHT));
	}

	private void keep(PatientId patient, Taken taken, InventedDrawing drawing) {
		var id = this.photographs.add(patient, taken, drawing.png());
		this.photographs.mark(id, InventedDrawing.share(drawing.first().getX()),
				InventedDrawing.share(drawing.first().getY()), InventedDrawing.share(drawing.second().getX()),
				InventedDrawing.share(drawing.second().getY()));
	}

}
