package org.seriatim.assessment.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.UUID;

import org.seriatim.access.StaffId;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Which scars somebody can rate a second time today without sight of the first rating:
 * those that they rated themselves, and those that only somebody else did. Only a depth
 * above 0 makes a pair.
 */
@Service
@Transactional(readOnly = true)
public class DueRepeats {

	private final JdbcClient database;

	DueRepeats(JdbcClient database) {
		this.database = database;
	}

	/** Scars that the assessor rated today, and not yet a second time. */
	public List<ScarId> ownOf(PatientId patient, StaffId assessor, LocalDate day) {
		return mixed(patient, assessor, day, """
				select first.scar_id from scar_assessment first
				where first.patient_id = :patient and first.assessed_on = :day and first.repeat = 0
					and first.assessor_id = :assessor and first.depth_mm > 0
					and not exists (select from scar_assessment other where other.scar_id = first.scar_id
						and other.assessed_on = :day and other.assessor_id = :assessor and other.repeat = 1)
				order by first.scar_id""");
	}

	/** Scars that others rated today, and the assessor has not. */
	public List<ScarId> othersOf(PatientId patient, StaffId assessor, LocalDate day) {
		return mixed(patient, assessor, day, """
				select distinct first.scar_id from scar_assessment first
				where first.patient_id = :patient and first.assessed_on = :day and first.repeat = 0
					and first.assessor_id <> :assessor and first.depth_mm > 0
					and not exists (select from scar_assessment other where other.scar_id = first.scar_id
						and other.assessed_on = :day and other.assessor_id = :assessor)
				order by first.scar_id""");
	}

	/*
	 * In an order that tells nothing, and stays the same while the page is open: mixed by
	 * a seed made of who rates whom on which day.
	 */
	private List<ScarId> mixed(PatientId patient, StaffId assessor, LocalDate day, String statement) {
		var scars = new ArrayList<>(this.database.sql(statement)
			.param("patient", patient.value())
			.param("assessor", assessor.value())
			.param("day", day)
			.query(UUID.class)
			.list()
			.stream()
			.map(ScarId::new)
			.toList());
		Collections.shuffle(scars, new Random(seed(patient, assessor, day)));
		return scars;
	}

	static long seed(PatientId patient, StaffId assessor, LocalDate day) {
		return 31 * (31 * patient.value().getLeastSignificantBits() + assessor.value().getLeastSignificantBits())
				+ day.toEpochDay();
	}

}
