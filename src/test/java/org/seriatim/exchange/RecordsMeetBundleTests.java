package org.seriatim.exchange;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.bundle.RecordsImported;
import org.seriatim.exchange.ImportResult.FileCounts;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.context.event.ApplicationEvents;
import org.springframework.test.context.event.RecordApplicationEvents;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A bundle comes to records that are there already, those of
 * {@link SampleBundle#onePatient}.
 */
@PageTest
@RecordApplicationEvents
class RecordsMeetBundleTests {

	private static final String OTHER_VALUES = "the values on record; an import that updates would make a new version of the record";

	@Autowired
	private BundleImport bundleImport;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private ApplicationEvents events;

	@TempDir
	private Path folder;

	private int bundles;

	@BeforeEach
	void anImportBefore() {
		assertThat(problems(SampleBundle.onePatient(), false)).isEmpty();
	}

	@Test
	void aFindingKeepsNoReasonOrScaleThatDoesNotBelongToWhatAnImportBrings() {
		this.jdbc.update("""
				update finding set version = version + 1, grade_scale = 'ctcae_6', closing_reason = 'gone',
					closed_on = '2026-02-01', closed_by = (select id from staff where name = 'a.venn')""");
		assertThat(problems(SampleBundle.onePatient().cell("findings.csv", 2, "grade", "2"), true)).isEmpty();
		assertThat(this.jdbc.queryForMap("select grade, grade_scale, closed_on, closing_reason from finding"))
			.containsEntry("grade", 2)
			.containsEntry("grade_scale", null)
			.containsEntry("closed_on", null)
			.containsEntry("closing_reason", null);
	}

	@Test
	void aFindingKeepsNothingThatContradictsWhatAnImportBrings() {
		this.jdbc.update("""
				update finding set version = version + 1, grade = 5, serious = true, seriousness_criteria = '{death}',
					course = 'fatal', onset_first = first_noted_on, visibility = 2, noticed_by = 'relative'""");
		var earlier = this.jdbc.queryForObject("select (first_noted_on - 1)::text from finding", String.class);
		assertThat(problems(SampleBundle.onePatient()
			.cell("findings.csv", 2, "serious", "no")
			.cell("findings.csv", 2, "first_noted_on", earlier), true)).isEmpty();
		assertThat(this.jdbc.queryForMap(
				"select seriousness_criteria::text as criteria, course, onset_first, visibility, noticed_by from finding"))
			.containsEntry("criteria", "{}")
			.containsEntry("course", null)
			.containsEntry("onset_first", null)
			.containsEntry("visibility", 2)
			.containsEntry("noticed_by", "relative");
	}

	@Test
	void aRowWithOtherValuesIsRefused() {
		Map<String, String> before = RecordCounts.of(this.jdbc);
		assertThat(problems(SampleBundle.onePatient()
			.cell("scar_assessments.csv", 2, "depth_mm", "0.35")
			.cell("scar_assessments.csv", 2, "severity", "")
			.row("patients.csv", "P2,,,,,,,,,"), false))
			.containsExactly(new Problem("scar_assessments.csv", 2, null, null,
					"other values than on record in depth_mm, severity", OTHER_VALUES));
		assertThat(RecordCounts.of(this.jdbc)).isEqualTo(before);
	}

	@Test
	@SignedInAs(Role.CLINIC_LEAD)
	void anUpdateMakesANewVersionAndKeepsTheOldOne() {
		assertThat(problems(SampleBundle.onePatient().cell("scar_assessments.csv", 2, "depth_mm", "0.35"), true))
			.isEmpty();
		assertThat(this.jdbc.queryForMap(
				"""
						select depth_mm::text, version, correction_reason, recorded_at = ? as now, recorded_by is not null as known
						from scar_assessment""",
				java.sql.Timestamp.from(TestClock.START)))
			.isEqualTo(Map.of("depth_mm", "0.35", "version", 1L, "correction_reason", "imported", "now", true, "known",
					true));
		assertThat(this.jdbc.queryForList(
				"select table_name || ' ' || version || ' ' || (content ->> 'depth_mm') from previous_version",
				String.class))
			.containsExactly("scar_assessment 0 0.40");
	}

	@Test
	void aKnownRowIsNotTouchedByAnUpdate() {
		Map<String, String> before = RecordCounts.of(this.jdbc);
		ImportResult result = take(SampleBundle.onePatient(), true);
		assertThat(((ImportResult.Taken) result).files()).allMatch((file) -> file.added() + file.changed() == 0);
		Map<String, String> after = RecordCounts.of(this.jdbc);
		List.of("audit_entry", "audit_waiting").forEach((log) -> {
			before.remove(log);
			after.remove(log);
		});
		assertThat(after).isEqualTo(before);
	}

	@Test
	void numbersAndTimesAreComparedByWhatTheyMean() {
		ImportResult result = take(SampleBundle.onePatient()
			.cell("scar_assessments.csv", 2, "depth_mm", "0.4")
			.cell("preparations.csv", 2, "diluent_ml", "3.00")
			.cell("appointments.csv", 2, "starts_at", "2026-04-04T07:00:00Z")
			.cell("appointments.csv", 2, "ends_at", "2026-04-04T07:45Z"), false);
		assertThat(result).isInstanceOf(ImportResult.Taken.class);
		assertThat(((ImportResult.Taken) result).changed()).isZero();
		assertThat(this.jdbc.queryForObject("select depth_mm::text from scar_assessment", String.class))
			.isEqualTo("0.40");
	}

	@Test
	void everyFileCanBeUpdated() {
		SampleBundle changed = SampleBundle.onePatient()
			.cell("patients.csv", 2, "sebum", "dry")
			.cell("series.csv", 2, "goal", "pores")
			.cell("scars.csv", 2, "type", "rolling")
			.cell("scar_assessments.csv", 2, "response", "2")
			.cell("scar_counts.csv", 2, "count", "9")
			.cell("pore_assessments.csv", 2, "grade", "1")
			.cell("global_assessments.csv", 2, "value", "2")
			.cell("sessions.csv", 2, "practitioner", "b.okonjo")
			.cell("preparations.csv", 2, "lot", "L2")
			.cell("injections.csv", 2, "scar_label", "")
			.cell("findings.csv", 2, "closed_on", "2026-05-01")
			.cell("findings.csv", 2, "closed_by", "c.straub")
			.cell("finding_observations.csv", 2, "present", "no")
			.cell("contacts.csv", 2, "outcome", "declined")
			.cell("appointments.csv", 2, "status", "cancelled");
		ImportResult result = take(changed, true);
		assertThat(((ImportResult.Taken) result).files())
			.allSatisfy((file) -> assertThat(file).extracting(FileCounts::changed).as(file.file()).isEqualTo(1L));
		assertThat(((ImportResult.Taken) take(changed, false)).unchanged()).isEqualTo(15);
		assertThat(this.jdbc.queryForObject("select count(*) from previous_version", Integer.class)).isEqualTo(14);
	}

	@Test
	void aBundleMayReferToWhatIsOnRecord() {
		assertThat(problems(SampleBundle.empty()
			.row("scar_assessments.csv", "P1,S1,2026-02-21,a.venn,0,,,0.30,gauge,,,")
			.row("injections.csv", "P1,1,2,1,chin,S1,scar,,,0.1,,,,,,,,")
			.row("finding_observations.csv", "F1,2026-01-20,no,,patient,phone")
			.row("contacts.csv", "P1,2,2026-02-22,phone,no_answer,,,"), false)).isEmpty();
	}

	@Test
	void daysOfSessionsOnRecordBindTheBundle() {
		assertThat(problems(SampleBundle.empty()
			.row("sessions.csv", "P1,3,1,2026-02-20,a.venn,,,,,,,,")
			.row("findings.csv", "F2,P1,2,bruise,,,2026-02-20,,,,,")
			.row("finding_observations.csv", "F1,2026-01-09,yes,,patient,phone")
			.row("contacts.csv", "P1,1,2026-01-09,phone,reached,,,"), false))
			.containsExactly(
					new Problem("sessions.csv", 2, 4, "treated_on",
							"session 3 on 2026-02-20, an earlier one on record after it",
							"days that do not fall as the session numbers of a patient rise"),
					new Problem("findings.csv", 2, 7, "first_noted_on", "2026-02-20, session on a later day on record",
							"a day that is not before the day of its session"),
					new Problem("finding_observations.csv", 2, 2, "observed_on",
							"2026-01-09, session on a later day on record",
							"a day that is not before the session of the finding"),
					new Problem("contacts.csv", 2, 3, "contacted_on", "2026-01-09, session on a later day on record",
							"a day that is not before the day of its session"));
	}

	@Test
	void aSessionIsNotMovedPastWhatFollowedIt() {
		assertThat(problems(
				SampleBundle.empty().row("sessions.csv", "P1,1,1,2026-02-22,a.venn,61.5,rf_after,1.5,40,no,yes,3,yes"),
				true))
			.containsExactly(
					new Problem("sessions.csv", 2, 4, "treated_on", "2026-02-22, contact on record",
							"a day that is not after a contact about the session"),
					new Problem("sessions.csv", 2, 4, "treated_on", "2026-02-22, finding on record",
							"a day that is not after a finding of the session was first noted"),
					new Problem("sessions.csv", 2, 4, "treated_on", "2026-02-22, observation on record",
							"a day that is not after an observation of a finding of the session"),
					new Problem("sessions.csv", 2, 4, "treated_on",
							"session 1 on 2026-02-22, a later one on record before it",
							"days that do not fall as the session numbers of a patient rise"));
	}

	@Test
	void aFindingIsNotMovedToASessionAfterItsObservations() {
		assertThat(problems(SampleBundle.empty().row("findings.csv", "F1,P1,2,lump,chin,S1,2026-02-22,1,no,,,"), true))
			.containsExactly(new Problem("findings.csv", 2, 3, "session_number", "2, observation on record",
					"a session that is not after an observation of the finding"));
	}

	@Test
	void aScarWithADepthOnRecordDoesNotBecomeARaisedOne() {
		assertThat(problems(SampleBundle.empty().row("scars.csv", "P1,S1,chin,hypertrophic,0.5,0.8,2026-01-05"), true))
			.containsExactly(new Problem("scars.csv", 2, 4, "type", "hypertrophic",
					"no raised or macular type, since a depth of the scar is on record"));
	}

	@Test
	void aTimeThatIsBookedOnRecordIsNotBookedAgain() {
		String expected = "a time in which the practitioner has no other appointment that is booked or arrived";
		SampleBundle early = SampleBundle.empty()
			.row("appointments.csv", "P1,a.venn,2026-04-04T08:00:00+02:00,2026-04-04T09:10:00+02:00,review,booked");
		assertThat(problems(early, false)).containsExactly(new Problem("appointments.csv", 2, 3, "starts_at",
				"an end at 2026-04-04 09:10, when the next one starts at 2026-04-04 09:00", expected));
		SampleBundle late = SampleBundle.empty()
			.row("appointments.csv", "P1,a.venn,2026-04-04T09:40:00+02:00,2026-04-04T10:00:00+02:00,review,booked");
		assertThat(problems(late, false)).containsExactly(new Problem("appointments.csv", 2, 3, "starts_at",
				"2026-04-04 09:40, when an earlier one ends at 2026-04-04 09:45", expected));
		SampleBundle next = SampleBundle.empty()
			.row("appointments.csv", "P1,a.venn,2026-04-04T09:45:00+02:00,2026-04-04T10:00:00+02:00,review,booked");
		assertThat(problems(next, false)).isEmpty();
	}

	@Test
	void anAppointmentTakesThePlaceOfOneThatIsCancelledInTheSameBundle() {
		assertThat(problems(SampleBundle.empty()
			.row("appointments.csv", "P1,a.venn,2026-04-04T08:30:00+02:00,2026-04-04T09:30:00+02:00,review,booked")
			.row("appointments.csv",
					"P1,a.venn,2026-04-04T09:00:00+02:00,2026-04-04T09:45:00+02:00,treatment,cancelled"),
				true))
			.isEmpty();
	}

	@Test
	void aRecordNumberIsNeverGivenTwice() {
		this.jdbc.update("insert into record_number_given (record_number, patient_id) values ('P7', uuidv7())");
		assertThat(problems(SampleBundle.empty().row("patients.csv", "P7,,,,,,,,,"), false))
			.containsExactly(new Problem("patients.csv", 2, 1, "record_number", "P7",
					"a record number that was never given to another patient"));
	}

	@Test
	void aSeriesIsGovernedByTheNewestProtocol() {
		this.jdbc
			.update("""
					insert into protocol_version select 2, published_at, published_by, note, base_interval_days, window_days,
						extended_interval_days, persistence_threshold_days, settling_margin_days, clearing_probability,
						curve_minimum_lumps, repeatability_minimum_pairs, repeatability_minimum_patients, plateau_from_session,
						plateau_minimum_scars, skin_shift_thin_days, skin_shift_medium_days, skin_shift_thick_days, contact_days,
						contact_repeat_days
					from protocol_version""");
		assertThat(problems(SampleBundle.empty().row("series.csv", "P1,2,scars,,open,,"), false)).isEmpty();
		assertThat(this.jdbc.queryForList("select protocol_version from series order by number", Integer.class))
			.containsExactly(1, 2);
	}

	@Test
	void staffIsMadeOnceAndWithoutASignIn() {
		assertThat(problems(SampleBundle.onePatient().cell("sessions.csv", 3, "practitioner", "b.okonjo"), true))
			.isEmpty();
		assertThat(this.jdbc.queryForList("select name from staff order by name", String.class))
			.containsExactly("a.venn", "b.okonjo");
		assertThat(this.jdbc.queryForObject("select count(*) from account", Integer.class)).isZero();
	}

	@Test
	void othersAreToldOnceAndOnlyOfWhatChangedTheRecords() {
		take(SampleBundle.onePatient(), false);
		take(SampleBundle.onePatient().cell("patients.csv", 2, "sebum", "dry"), false);
		take(SampleBundle.onePatient().cell("patients.csv", 2, "sebum", "dry").row("patients.csv", "P2,,,,,,,,,"),
				true);
		assertThat(this.events.stream(RecordsImported.class))
			.containsExactly(new RecordsImported(15, 0, TestClock.START), new RecordsImported(1, 1, TestClock.START));
	}

	private List<Problem> problems(SampleBundle bundle, boolean update) {
		ImportResult result = take(bundle, update);
		return (result instanceof ImportResult.Refused refused) ? refused.problems().first() : List.of();
	}

	private ImportResult take(SampleBundle bundle, boolean update) {
		return this.bundleImport.take(bundle.writeTo(this.folder.resolve("bundle" + this.bundles++)), update,
				ImportProgress.UNWATCHED);
	}

}
