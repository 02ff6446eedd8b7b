package org.seriatim.finding.domain;

import java.util.List;

import org.seriatim.bundle.BundleCheck;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.finding.Channel;
import org.seriatim.finding.Reporter;

import org.springframework.stereotype.Component;

/** finding_observations.csv, kept in {@code finding_observation}. */
@Component
class FindingObservationBundleSection implements BundleSection {

	private static final BundleFile FILE = BundleFile.named("finding_observations.csv")
		.key("finding", Kind.label())
		.key("observed_on", Kind.day())
		.key("reporter", Kind.word(Reporter.values(), Reporter::word))
		.key("channel", Kind.word(Channel.values(), Channel::word))
		.required("present", Kind.yesNo())
		.optional("size_mm", Kind.positive())
		.refersTo("findings.csv", "a finding", "finding")
		.build();

	@Override
	public BundleFile file() {
		return FILE;
	}

	@Override
	public String recorded() {
		return """
				select o.id, f.code as finding, o.observed_on, o.reporter, o.channel, o.present, o.size_mm
				from finding_observation o join finding f on f.id = o.finding_id""";
	}

	@Override
	public String write() {
		return """
				insert into finding_observation (id, finding_id, observed_on, reporter, channel, present, size_mm, recorded_at,
					recorded_by)
				select i.id, f.id, i.observed_on, i.reporter, i.channel, i.present, i.size_mm, :recorded_at, :recorded_by
				from incoming_finding_observations i join finding f on f.code = i.finding
				where i.state <> 'unchanged'
				on conflict (id) do update set
					(present, size_mm) = (excluded.present, excluded.size_mm),
					version = finding_observation.version + 1, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, correction_reason = :reason""";
	}

	@Override
	public List<BundleCheck> checks() {
		return List.of(
				new BundleCheck("finding_observations.csv", "observed_on",
						"a day that is not before the session of the finding",
						"""
								select i.line, i.observed_on || ', session on ' || coalesce(s.treated_on || ' in line ' || s.line,
									'a later day on record') as found
								from incoming_finding_observations i
									join merged_findings f using (finding)
									join merged_sessions s using (record_number, session_number)
								where i.observed_on < s.treated_on"""),
				new BundleCheck("findings.csv", "session_number",
						"a session that is not after an observation of the finding", """
								select distinct i.line, i.session_number || ', observation on record' as found
								from incoming_findings i
									join merged_finding_observations o using (finding)
									join merged_sessions s using (record_number, session_number)
								where o.line is null and o.observed_on < s.treated_on"""),
				new BundleCheck("sessions.csv", "treated_on",
						"a day that is not after an observation of a finding of the session", """
								select distinct i.line, i.treated_on || ', observation on record' as found
								from incoming_sessions i
									join merged_findings f using (record_number, session_number)
									join merged_finding_observations o using (finding)
								where f.line is null and o.line is null and o.observed_on < i.treated_on"""));
	}

}
