package org.seriatim.finding.domain;

import java.util.List;

import org.seriatim.assessment.Region;
import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.RowRule;
import org.seriatim.finding.FindingKind;

import org.springframework.stereotype.Component;

/**
 * findings.csv, kept in {@code finding}. The reason of a closing and the scale of a grade
 * have no column in the format, so an import leaves them as they are while they still
 * belong to what it brings.
 */
@Component
class FindingBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("findings.csv")
		.key("finding", Kind.label())
		.required("record_number", Kind.label())
		.optional("session_number", Kind.whole(1, 9999))
		.required("kind", Kind.word(FindingKind.values(), FindingKind::word))
		.optional("region", Kind.word(Region.values(), Region::word))
		.optional("scar_label", Kind.label())
		.required("first_noted_on", Kind.day())
		.optional("grade", Kind.whole(1, 5))
		.optional("serious", Kind.yesNo())
		.optional("gone_on", Kind.day())
		.optional("closed_on", Kind.day())
		.optional("closed_by", Kind.staff())
		.refersTo("patients.csv", "a patient", "record_number")
		.refersTo("sessions.csv", "a session of the patient", "record_number", "session_number")
		.refersTo("scars.csv", "a scar of the patient", "record_number", "scar_label")
		.rule(RowRule.bothOrNeither("closed_on", "closed_by"))
		.rule(RowRule.notBelow("closed_on", "first_noted_on", "a day that is not before the finding was first noted"))
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select f.id, f.code as finding, p.record_number, s.number as session_number, f.kind, f.region,
					c.label as scar_label, f.first_noted_on, f.grade, f.serious, f.gone_on, f.closed_on, m.name as closed_by
				from finding f
					join patient p on p.id = f.patient_id
					left join session s on s.id = f.session_id
					left join scar c on c.id = f.scar_id
					left join staff m on m.id = f.closed_by""";
	}

	@Override
	public String write() {
		return """
				insert into finding (id, code, patient_id, session_id, kind, region, scar_id, first_noted_on, grade, serious,
					gone_on, closed_on, closed_by, recorded_at, recorded_by)
				select i.id, i.finding, p.id, s.id, i.kind, i.region, c.id, i.first_noted_on, i.grade, i.serious, i.gone_on,
					i.closed_on, m.id, :recorded_at, :recorded_by
				from incoming_findings i
					join patient p using (record_number)
					left join session s on s.patient_id = p.id and s.number = i.session_number
					left join scar c on c.patient_id = p.id and c.label = i.scar_label
					left join staff m on m.name = i.closed_by
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(patient_id, session_id, kind, region, scar_id, first_noted_on, grade, serious, gone_on, closed_on,
							closed_by) =
						(excluded.patient_id, excluded.session_id, excluded.kind, excluded.region, excluded.scar_id,
						excluded.first_noted_on, excluded.grade, excluded.serious, excluded.gone_on, excluded.closed_on,
						excluded.closed_by),
					-- a grade of unknown scale keeps no scale of an earlier grade, a finding that is open no reason
					grade_scale = case when finding.grade = excluded.grade then finding.grade_scale end,
					closing_reason = case when excluded.closed_on is not null then finding.closing_reason end,
					closed_at = case when excluded.closed_on = finding.closed_on then finding.closed_at end,
					-- and nothing that the new version contradicts
					seriousness_criteria = case when excluded.serious and excluded.grade is not distinct from finding.grade
						then finding.seriousness_criteria else '{}' end,
					course = case when finding.course <> 'fatal' or excluded.serious and excluded.grade = finding.grade
						then finding.course end,
					onset_first = case when coalesce(finding.onset_last, finding.onset_first) <= excluded.first_noted_on
						then finding.onset_first end,
					onset_last = case when finding.onset_last <= excluded.first_noted_on then finding.onset_last end,
					version = finding.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		return List.of(
				new BundleCheck("findings.csv", "first_noted_on", "a day that is not before the day of its session",
						"""
								select i.line, i.first_noted_on || ', session on ' || coalesce(s.treated_on || ' in line ' || s.line,
									'a later day on record') as found
								from incoming_findings i join merged_sessions s using (record_number, session_number)
								where i.first_noted_on < s.treated_on"""),
				new BundleCheck("sessions.csv", "treated_on",
						"a day that is not after a finding of the session was first noted", """
								select distinct i.line, i.treated_on || ', finding on record' as found
								from incoming_sessions i join merged_findings f using (record_number, session_number)
								where f.line is null and f.first_noted_on < i.treated_on"""));
	}

}
