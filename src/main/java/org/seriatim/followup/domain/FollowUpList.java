package org.seriatim.followup.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;

import org.seriatim.followup.Advice;
import org.seriatim.treatment.Protocols;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The advice of all open series: the current one, and the one of an earlier day. */
@Service
@Transactional(readOnly = true)
public class FollowUpList {

	/** Patients read at once, so that the largest clinic fits into memory. */
	private static final int AT_ONCE = 250;

	private final JdbcClient database;

	private final RecordedFacts facts;

	private final RecordedFigures figures;

	private final Protocols protocols;

	private final Clock clock;

	FollowUpList(JdbcClient database, RecordedFacts facts, RecordedFigures figures, Protocols protocols, Clock clock) {
		this.database = database;
		this.facts = facts;
		this.figures = figures;
		this.protocols = protocols;
		this.clock = clock;
	}

	/** The current advice of every open series, by record number. */
	public List<FollowUp> current() {
		var startOfToday = LocalDate.now(this.clock).atStartOfDay(this.clock.getZone()).toOffsetDateTime();
		return this.database.sql("""
				select current.*, record_number, family_name, given_name, phone, series.number as series_number,
					starts_at
				from (%s true) current
					join patient on patient.id = current.patient_id
					join series on series.id = current.series_id
					left join lateral (
						select starts_at from appointment
						where patient_id = current.patient_id and purpose = 'treatment'
							and status in ('booked', 'arrived') and starts_at >= :startOfToday
						order by starts_at limit 1) booked on true
				order by record_number, series.number""".formatted(KeptAdvice.CURRENT))
			.param("startOfToday", startOfToday)
			.query(FollowUpList::followUp)
			.list();
	}

	private static FollowUp followUp(ResultSet row, int index) throws SQLException {
		var bookedFor = row.getObject("starts_at", OffsetDateTime.class);
		return new FollowUp(KeptAdvice.standing(row, index), row.getString("record_number"),
				row.getString("family_name"), row.getString("given_name"), row.getString("phone"),
				row.getInt("series_number"), (bookedFor != null) ? bookedFor.toInstant() : null);
	}

	/** An advice with the record number of the patient that it is about. */
	public record OfPatient(String recordNumber, Advice advice) {
	}

	/**
	 * The advice of every series that was open on a day, computed from nothing that is
	 * dated later, by record number.
	 */
	public List<OfPatient> asOf(LocalDate day) {
		var known = this.figures.asOf(day);
		var protocol = this.protocols.inForceOn(day);
		var patients = this.facts.patientsWithOpenSeries(day);
		var advised = new ArrayList<OfPatient>();
		for (int from = 0; from < patients.size(); from += AT_ONCE) {
			var some = patients.subList(from, Math.min(patients.size(), from + AT_ONCE));
			for (var series : this.facts.openSeries(some, day)) {
				IntervalAdvice.advise(series.facts(), protocol, known.curve(), known.ratings())
					.ifPresent((advice) -> advised.add(new OfPatient(series.recordNumber(), advice)));
			}
		}
		return advised;
	}

}
