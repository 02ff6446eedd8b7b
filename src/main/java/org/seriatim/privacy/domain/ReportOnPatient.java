package org.seriatim.privacy.domain;

import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.PatientPart;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientSummary;
import org.springframework.jdbc.core.namedparam.NamedParameterJdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Collects everything that is held about a patient. What is in the exchange bundle comes
 * from its sections, so that a kind of entry that joins the bundle joins the report; what
 * is not in the bundle stands here by name.
 */
@Service
public class ReportOnPatient {

	/**
	 * A kind that is held beside the bundle.
	 *
	 * @param sql a statement for the patient's rows, with the parameter {@code :patient}
	 */
	private record Beside(String kind, String sql) {
	}

	private static final List<Beside> BESIDE = List.of(new Beside("session_details", """
			select number as session_number, topical_grams, topical_area_cm2, right_even, right_lump_felt,
				right_compressed, right_massaged, right_ointment, middle_even, middle_lump_felt, middle_compressed,
				middle_massaged, middle_ointment, left_even, left_lump_felt, left_compressed, left_massaged,
				left_ointment, instructions_given, instructions
			from session
			where patient_id = :patient and num_nonnulls(topical_grams, topical_area_cm2, right_even, right_lump_felt,
				right_compressed, right_massaged, right_ointment, middle_even, middle_lump_felt, middle_compressed,
				middle_massaged, middle_ointment, left_even, left_lump_felt, left_compressed, left_massaged,
				left_ointment, instructions_given, instructions) > 0
			order by number"""), new Beside("preparation_details", """
			select s.number as session_number, p.number as preparation, p.hyaluronic_mg, p.reconstituted_at,
				p.first_used_at, p.syringes, p.vial_fate, p.discard_reason, p.expired_reason, p.balance_reason
			from preparation p join session s on s.id = p.session_id
			where s.patient_id = :patient and num_nonnulls(p.hyaluronic_mg, p.reconstituted_at, p.first_used_at,
				p.syringes, p.vial_fate, p.discard_reason, p.expired_reason, p.balance_reason) > 0
			order by s.number, p.number"""), new Beside("injection_details", """
			select s.number as session_number, i.number as injection, i.point_ml, i.angle_degrees, i.area_cm2,
				i.spacing_mm
			from injection i join session s on s.id = i.session_id
			where i.patient_id = :patient and num_nonnulls(i.point_ml, i.angle_degrees, i.area_cm2, i.spacing_mm) > 0
			order by s.number, i.number"""), new Beside("scar_states", """
			select c.label as scar_label, s.assessed_on, m.name as assessor, s.state,
				(select string_agg(other.label, ', ' order by other.label) from scar other
					where other.id = any (s.into_scars)) as into_scars, s.reason
			from scar_state s join scar c on c.id = s.scar_id left join staff m on m.id = s.assessor_id
			where s.patient_id = :patient order by s.assessed_on, c.label"""),
			new Beside("finding_notes",
					"""
							select f.code as finding, f.note, f.onset_first, f.onset_last, f.side, f.visibility, f.inflammatory, f.noticed_by,
								f.how_reported, array_to_string(f.seriousness_criteria, ',') as seriousness_criteria, f.course,
								f.causality, f.causality_on, m.name as assessor, f.closing_reason, array_to_string(f.signs, ',') as signs
							from finding f left join staff m on m.id = f.causality_by
							where f.patient_id = :patient and (cardinality(f.signs) + cardinality(f.seriousness_criteria) > 0
								or num_nonnulls(f.note, f.onset_first, f.side, f.visibility, f.inflammatory, f.noticed_by, f.how_reported,
									f.course, f.causality, f.closing_reason) > 0)
							order by f.first_noted_on, f.code"""),
			new Beside("finding_actions", """
					select f.code as finding, a.done_on, a.action, a.carried_out, m.name as done_by, a.description
					from finding_action a join finding f on f.id = a.finding_id left join staff m on m.id = a.done_by
					where a.patient_id = :patient order by a.done_on, a.id"""),
			new Beside("finding_reports",
					"""
							select f.code as finding, r.considered_on, m.name as considered_by, r.decision, r.reason, r.recipient,
								r.sent_on, r.reference, r.follow_up_due
							from finding_report r join finding f on f.id = r.finding_id left join staff m on m.id = r.considered_by
							where r.patient_id = :patient order by r.considered_on, r.id"""),
			new Beside("advice", """
					select a.as_of, s.number as session_number, a.status, a.first_day, a.target_day, a.last_day,
						a.next_contact_day, d.accepted, d.reason, m.name as decided_by
					from advice a join session s on s.id = a.session_id
						left join advice_decision d on d.advice_id = a.id
						left join staff m on m.id = d.decided_by
					where a.patient_id = :patient order by a.computed_at, d.decided_at"""), new Beside("drafts", """
					select d.written_at, m.name as written_by, d.status, d.content::text as content
					from session_draft d join staff m on m.id = d.written_by
					where d.patient_id = :patient order by d.written_at"""), new Beside("appointment_details", """
					select starts_at, numbing_minutes, array_to_string(exceptions, ',') as exceptions, exception_reason,
						window_first, window_last
					from appointment
					where patient_id = :patient
						and (num_nonnulls(numbing_minutes, exception_reason) > 0 or cardinality(exceptions) > 0)
					order by starts_at"""),
			new Beside("photographs",
					"""
							select p.taken_on, p.view, p.region, s.label as scar_label, p.light_set, p.camera, p.distance_cm, m.name as taken_by,
								p.quality_ok, p.quality_note, p.width, p.height, p.set_aside
							from photograph p left join scar s on s.id = p.scar_id left join staff m on m.id = p.taken_by
							where p.patient_id = :patient order by p.taken_on, p.id"""),
			new Beside("photograph_consents", """
					select c.purpose, c.given_on, c.withdrawn_on, c.note
					from photograph_consent c where c.patient_id = :patient order by c.given_on, c.id"""),
			new Beside("screening_plans", """
					select p.planned_for, p.radiofrequency, p.prilocaine
					from screening_plan p where p.patient_id = :patient order by p.planned_for"""),
			new Beside("screening_answers",
					"""
							select a.question, a.asked_on, a.answer, m.name as asked_by, c.name as confirmed_by, a.note, a.last_dose_on
							from screening_answer a join staff m on m.id = a.asked_by left join staff c on c.id = a.confirmed_by
							where a.patient_id = :patient order by a.asked_on, a.id"""),
			new Beside("screening_decisions", """
					select d.question, d.decided_on, d.about, d.verdict, d.reason, m.name as decided_by
					from screening_decision d join staff m on m.id = d.decided_by
					where d.patient_id = :patient order by d.decided_on, d.id"""), new Beside("treatment_consents", """
					select c.given_on, c.document_reference, c.withdrawn_on
					from treatment_consent c where c.patient_id = :patient order by c.given_on, c.id"""),
			new Beside("body_weights", """
					select w.weighed_on, w.weight_kg
					from body_weight w where w.patient_id = :patient order by w.weighed_on"""),
			new Beside("numbing_times", """
					select n.started_at, n.stopped_at
					from numbing n where n.patient_id = :patient order by n.started_at"""),
			new Beside("numbing_plans", """
					select n.minutes from numbing_plan n where n.patient_id = :patient"""), new Beside("holds", """
					select h.set_at, m.name as set_by, h.reason, h.lifted_at, l.name as lifted_by, h.lift_reason
					from legal_hold h left join staff m on m.id = h.set_by left join staff l on l.id = h.lifted_by
					where h.patient_id = :patient order by h.set_at"""), new Beside("kept_longer", """
					select k.kind as retained, k.kept_until, k.reason, k.decided_at, m.name as decided_by
					from retention_kept k left join staff m on m.id = k.decided_by
					where k.patient_id = :patient order by k.decided_at"""), new Beside("emergency_access", """
					select e.begun_at, coalesce(e.ended_at, e.ends_at) as ended_at, e.reason, e.justified, e.note
					from emergency_access e where e.patient_id = :patient order by e.begun_at"""),
			new Beside("links", """
					select l.made_at, m.name as made_by, l.expires_at, l.ended_at, l.ended_why
					from contact_link l left join staff m on m.id = l.made_by
					where l.patient_id = :patient order by l.made_at"""), new Beside("answers_by_link", """
					select a.received_at, array_to_string(a.signs, ',') as signs, a.lumps,
						array_to_string(a.regions, ',') as regions, a.pain_nrs, a.said
					from link_answer a where a.patient_id = :patient order by a.received_at"""),
			new Beside("mail_choices", """
					select c.opted_out, c.no_reminders, c.chosen_by, c.recorded_at as chosen_at
					from mail_choice c where c.patient_id = :patient"""), new Beside("mail", """
					select o.queued_at, o.purpose, o.appointment_starts_at, o.recipient, o.state, o.attempts, o.sent_at,
						o.problem
					from outbox_message o where o.patient_id = :patient order by o.queued_at"""),
			new Beside("earlier_versions",
					"""
							select v.table_name as entry, v.version + 1 as version, v.replaced_at,
								(select jsonb_object_agg(key, value)::text
									from jsonb_each_text(jsonb_strip_nulls(v.content)) column_of(key, value)
									where key not like '%id' and not (key = 'item' and v.content ->> 'question' is not null) and key not in ('version', 'recorded_at', 'recorded_by', 'search_text'))
									as content
							from previous_version v
							where v.content ->> 'patient_id' = cast(:patient as text)
								or v.table_name = 'patient' and v.entry_id = :patient
								or v.content ->> 'session_id' in (select id::text from session where patient_id = :patient)
								or v.content ->> 'finding_id' in (select id::text from finding where patient_id = :patient)
							order by v.replaced_at, v.table_name"""));

	private static final String OPENINGS = """
			select (e.at at time zone :zone)::date as day, coalesce(r.roles, '') as roles, e.action, e.kind,
				count(*) as times
			from audit_entry e
				left join lateral (select string_agg(role, ',' order by role) as roles
					from account a join account_role o on o.account_id = a.id where a.staff_id = e.staff_id) r on true
			where e.patient_id = :patient
			group by 1, 2, 3, 4 order by 1 desc, 2, 3, 4""";

	private final List<BundleSection> sections;

	private final NamedParameterJdbcTemplate database;

	private final AuditLog audit;

	private final Clock clock;

	ReportOnPatient(List<BundleSection> sections, NamedParameterJdbcTemplate database, AuditLog audit, Clock clock) {
		this.sections = sections;
		this.database = database;
		this.audit = audit;
		this.clock = clock;
	}

	/** The report, which is in the audit log as given out. */
	@Transactional
	public HeldRecord of(PatientSummary patient) {
		var id = patient.id();
		this.audit.record(Action.EXPORTED, "patient", id.value(), id.value(), "report");
		var part = new PatientPart(this.sections);
		var tables = new ArrayList<HeldRecord.Table>();
		for (var name : BundleFormat.FILES) {
			this.sections.stream().filter((section) -> section.file().name().equals(name)).forEach((section) -> {
				var file = section.file();
				var columns = file.columns().stream().map((column) -> column.name()).toList();
				var sql = "select %s from (%s) held order by %s".formatted(String.join(", ", columns),
						part.recorded(section),
						String.join(", ", file.key().stream().map((key) -> "held." + key).toList()));
				add(tables, file.stem(), columns.stream()
					.filter((column) -> !column.equals(PatientPart.PARAMETER) || file.key().equals(List.of(column)))
					.toList(), sql, Map.of(PatientPart.PARAMETER, patient.recordNumber()));
			});
		}
		for (var beside : BESIDE) {
			add(tables, beside.kind(), List.of(), beside.sql(), Map.of("patient", id.value()));
		}
		return new HeldRecord(tables, openings(id));
	}

	/** The statements about what is held beside the bundle. */
	static List<String> statements() {
		return Stream.concat(BESIDE.stream().map(Beside::sql), Stream.of(OPENINGS)).toList();
	}

	private void add(List<HeldRecord.Table> tables, String kind, List<String> wanted, String sql,
			Map<String, ?> parameters) {
		var rows = this.database.queryForList(sql, parameters);
		if (rows.isEmpty()) {
			return;
		}
		var columns = (wanted.isEmpty() ? List.copyOf(rows.get(0).keySet()) : wanted).stream()
			.filter((column) -> rows.stream().anyMatch((row) -> row.get(column) != null && !row.get(column).equals("")))
			.toList();
		tables.add(new HeldRecord.Table(kind, columns, rows.stream().map((row) -> cells(row, columns)).toList()));
	}

	private static List<@Nullable Object> cells(Map<String, Object> row, List<String> columns) {
		List<@Nullable Object> cells = new ArrayList<>();
		columns.forEach((column) -> cells.add(value(row.get(column))));
		return cells;
	}

	private static @Nullable Object value(@Nullable Object stored) {
		if (stored instanceof java.sql.Date day) {
			return day.toLocalDate();
		}
		return (stored instanceof Timestamp time) ? time.toInstant() : stored;
	}

	private List<HeldRecord.Opening> openings(PatientId patient) {
		return this.database.query(OPENINGS, Map.of("patient", patient.value(), "zone", this.clock.getZone().getId()),
				(row, index) -> new HeldRecord.Opening(row.getObject("day", LocalDate.class),
						Arrays.stream(row.getString("roles").split(",")).filter((role) -> !role.isEmpty()).toList(),
						row.getString("action"), row.getString("kind"), row.getLong("times")));
	}

}
