package org.seriatim.appointment.domain;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What the list of the day says beside its items: whom to call how, and what was done.
 */
@Service
@Transactional(readOnly = true)
public class DayDetails {

	/** So many of today's entries are shown; an import may have made thousands. */
	private static final int MOST_HANDLED = 100;

	private final JdbcClient database;

	private final Clock clock;

	DayDetails(JdbcClient database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	/**
	 * Whom to call, and how.
	 *
	 * @param reachedBy the channel by which the patient was last reached
	 */
	public record Person(PatientId patient, String recordNumber, String name, @Nullable String phone,
			@Nullable String email, @Nullable String reachedBy) {
	}

	/** A session as the desk calls it. */
	public record Treated(int number, LocalDate on, StaffId by) {
	}

	/**
	 * What somebody did today.
	 *
	 * @param what contact, appointment, decision or answer
	 * @param how the outcome of the contact, the status of the appointment, or what was
	 * decided
	 * @param by nobody of the clinic where the patient answered by a link
	 */
	public record Handled(String what, String how, Instant at, @Nullable String by, PatientId patient,
			String recordNumber, String name) {
	}

	public Map<PatientId, Person> people(Collection<PatientId> patients) {
		Map<PatientId, Person> people = new HashMap<>();
		this.database.sql("""
				select id, record_number, family_name, given_name, phone, email,
					(select channel from contact where patient_id = patient.id and outcome = 'reached'
							and channel in ('phone', 'link')
						order by contacted_on desc limit 1) as reached_by
				from patient where id = any(cast(:ids as uuid[]))""")
			.param("ids", array(patients.stream().map(PatientId::value)))
			.query((row) -> {
				var id = new PatientId(row.getObject("id", UUID.class));
				people.put(id,
						new Person(id, row.getString("record_number"),
								name(row.getString("family_name"), row.getString("given_name"),
										row.getString("record_number")),
								row.getString("phone"), row.getString("email"), row.getString("reached_by")));
			});
		return people;
	}

	public Map<SessionId, Treated> sessions(Collection<SessionId> sessions) {
		Map<SessionId, Treated> treated = new HashMap<>();
		this.database
			.sql("select id, number, treated_on, practitioner_id from session where id = any(cast(:ids as uuid[]))")
			.param("ids", array(sessions.stream().map(SessionId::value)))
			.query((row) -> {
				treated.put(new SessionId(row.getObject("id", UUID.class)),
						new Treated(row.getInt("number"), row.getObject("treated_on", LocalDate.class),
								new StaffId(row.getObject("practitioner_id", UUID.class))));
			});
		return treated;
	}

	/**
	 * What people recorded today, and patients told by a link, the latest first; not what
	 * a command brought in.
	 */
	public List<Handled> handledToday() {
		var today = LocalDate.now(this.clock);
		return this.database
			.sql("""
					select what, how, at, staff.name as by, patient.id, record_number, family_name, given_name
					from (
						(select 'contact' as what, outcome as how, recorded_at as at, recorded_by as by, patient_id
						from contact where recorded_by is not null and recorded_at >= :start and recorded_at < :end
						order by recorded_at desc limit :most)
						union all
						(select 'appointment', status, recorded_at, recorded_by, patient_id
						from appointment where recorded_by is not null and recorded_at >= :start and recorded_at < :end
						order by recorded_at desc limit :most)
						union all
						(select 'decision', case when accepted then 'accepted' else 'overridden' end, advice_decision.decided_at, decided_by,
							patient_id
						from advice_decision join advice on advice.id = advice_id
						where advice_decision.decided_at >= :start and advice_decision.decided_at < :end
						order by advice_decision.decided_at desc limit :most)
						union all
						(select 'answer', 'link', received_at, null, patient_id
						from link_answer where received_at >= :start and received_at < :end
						order by received_at desc limit :most)) done
						join patient on patient.id = done.patient_id
						left join staff on staff.id = done.by
					order by at desc, record_number limit :most""")
			.param("start", startOf(today))
			.param("end", startOf(today.plusDays(1)))
			.param("most", MOST_HANDLED)
			.query((row, index) -> new Handled(row.getString("what"), row.getString("how"),
					row.getObject("at", OffsetDateTime.class).toInstant(), row.getString("by"),
					new PatientId(row.getObject("id", UUID.class)), row.getString("record_number"),
					name(row.getString("family_name"), row.getString("given_name"), row.getString("record_number"))))
			.list();
	}

	private static String name(@Nullable String family, @Nullable String given, String recordNumber) {
		var name = Stream.of(family, given).filter(Objects::nonNull).collect(Collectors.joining(", "));
		return name.isEmpty() ? recordNumber : name;
	}

	private static String array(Stream<UUID> ids) {
		return ids.distinct().map(UUID::toString).collect(Collectors.joining(",", "{", "}"));
	}

	private OffsetDateTime startOf(LocalDate day) {
		return day.atStartOfDay(this.clock.getZone()).toInstant().atOffset(ZoneOffset.UTC);
	}

}
