package org.seriatim.finding.domain;

import java.util.List;

import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactOutcome;

import org.springframework.stereotype.Component;

/** contacts.csv, kept in {@code contact}. */
@Component
class ContactBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("contacts.csv")
		.key("record_number", Kind.label())
		.key("session_number", Kind.whole(1, 9999))
		.key("contacted_on", Kind.day())
		.key("channel", Kind.word(Channel.values(), Channel::word))
		.required("outcome", Kind.word(ContactOutcome.values(), ContactOutcome::word))
		.optional("lumps_present", Kind.yesNo())
		.optional("pain_nrs", Kind.whole(0, 10))
		.optional("note", Kind.prose())
		.refersTo("patients.csv", "a patient", "record_number")
		.refersTo("sessions.csv", "a session of the patient", "record_number", "session_number")
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select c.id, p.record_number, s.number as session_number, c.contacted_on, c.channel, c.outcome,
					c.lumps_present, c.pain_nrs, c.note
				from contact c
					join session s on s.id = c.session_id
					join patient p on p.id = c.patient_id""";
	}

	@Override
	public String write() {
		return """
				insert into contact (id, patient_id, session_id, contacted_on, channel, outcome, lumps_present, pain_nrs, note,
					recorded_at, recorded_by)
				select i.id, p.id, s.id, i.contacted_on, i.channel, i.outcome, i.lumps_present, i.pain_nrs, i.note,
					:recorded_at, :recorded_by
				from incoming_contacts i
					join patient p using (record_number)
					join session s on s.patient_id = p.id and s.number = i.session_number
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(outcome, lumps_present, pain_nrs, note) =
						(excluded.outcome, excluded.lumps_present, excluded.pain_nrs, excluded.note),
					version = contact.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		return List.of(
				new BundleCheck("contacts.csv", "contacted_on", "a day that is not before the day of its session",
						"""
								select i.line, i.contacted_on || ', session on ' || coalesce(s.treated_on || ' in line ' || s.line,
									'a later day on record') as found
								from incoming_contacts i join merged_sessions s using (record_number, session_number)
								where i.contacted_on < s.treated_on"""),
				new BundleCheck("sessions.csv", "treated_on", "a day that is not after a contact about the session", """
						select distinct i.line, i.treated_on || ', contact on record' as found
						from incoming_sessions i join merged_contacts c using (record_number, session_number)
						where c.line is null and c.contacted_on < i.treated_on"""));
	}

}
