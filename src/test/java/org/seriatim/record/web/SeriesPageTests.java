package org.seriatim.record.web;

import java.io.UnsupportedEncodingException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.UUID;

import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.EnumSource.Mode;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import org.seriatim.access.Role;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.FaceCount;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.record.PatientRows;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.SeriesId;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/**
 * One invented series, every figure of which was computed by hand from the definitions:
 * sessions on 1 June, 20 July and 7 September 2026, seen on 20 November.
 */
@PageTest
class SeriesPageTests {

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	private PatientRows patient;

	private SeriesId series;

	private UUID firstSession;

	private UUID lastSession;

	@BeforeEach
	void treatAPatientThreeTimes() {
		measureRepeatability();
		this.patient = PatientRows.of(this.database, "T-100", "family_name", "Quayle", "given_name", "Orsolya",
				"birth_date", "1990-11-21", "phototype", 4, "skin_thickness", "thick", "sebum", "oily");
		this.series = this.patient.series(1, "goal", "both cheeks", "planned_sessions", 4);
		this.firstSession = this.patient.session(this.series, 1, "2026-06-01", "pain_nrs", 5);
		this.patient.session(this.series, 2, "2026-07-20");
		this.lastSession = this.patient.session(this.series, 3, "2026-09-07", "pain_nrs", 6);
	}

	/**
	 * Ten pairs of 1.0 and 1.1 mm in five patients: SDC = 1.96 ln 1.1 = 0.18681, so 17.0
	 * % shallower or 20.5 % deeper.
	 */
	private void measureRepeatability() {
		var second = PatientRows.staff(this.database, "s.other");
		for (int i = 0; i < 5; i++) {
			var rated = PatientRows.of(this.database, "R-" + i);
			for (var label : List.of("A", "B")) {
				var scar = rated.scar(label);
				rated.depth(scar, "2026-03-01", "1.0");
				rated.depth(scar, "2026-03-01", "1.1", "assessor_id", second);
			}
		}
	}

	private void assessScars() {
		var halved = this.patient.scar("A1", "map_x", 0.5, "map_y", 0.5);
		this.patient.depth(halved, "2026-05-30", "0.90");
		this.patient.depth(halved, "2026-06-01", "0.80", "length_mm", 4.2, "width_mm", 3.1);
		this.patient.depth(halved, "2026-06-01", "0.60", "repeat", 1);
		this.patient.depth(halved, "2026-07-20", "0.56");
		this.patient.depth(halved, "2026-10-10", "0.35", "response", 2);
		var twoMethods = this.patient.scar("A2", "type", "ice_pick");
		this.patient.depth(twoMethods, "2026-06-01", "0.50", "severity", 3);
		this.patient.depth(twoMethods, "2026-07-20", "0.45", "severity", 2, "depth_method", "ultrasound");
		var resolved = this.patient.scar("A3", "type", "rolling");
		this.patient.depth(resolved, "2026-06-01", "0.40");
		this.patient.depth(resolved, "2026-07-20", "0.30");
		this.patient.depth(resolved, "2026-10-10", "0");
		var raised = this.patient.scar("A4", "type", "keloid");
		this.patient.depth(raised, "2026-06-01", null, "severity", 2);
		this.patient.depth(raised, "2026-10-10", null, "severity", 3);
		this.patient.scar("A5");
		var alike = this.patient.scar("A6");
		this.patient.depth(alike, "2026-06-01", "0.50");
		this.patient.depth(alike, "2026-07-20", "0.48");
		this.patient.depth(alike, "2026-10-10", "0.45");
		var deeper = this.patient.scar("A7");
		this.patient.depth(deeper, "2026-06-01", "0.30");
		this.patient.depth(deeper, "2026-07-20", "0.35");
		this.patient.depth(deeper, "2026-10-10", "0.40");
	}

	private MvcTestResult get(Role... roles) {
		return this.pages.get().uri("/series/" + this.series).with(this.staff.as(roles)).exchange();
	}

	private Document page() {
		this.events.publishEvent(new PatientRecordChanged(this.patient.id()));
		var result = get(Role.PRACTITIONER);
		assertThat(result).hasStatusOk();
		return parsed(result);
	}

	private static Document parsed(MvcTestResult result) {
		try {
			return Jsoup.parse(result.getResponse().getContentAsString(StandardCharsets.UTF_8));
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

	/** The cells of the row that begins with this heading. */
	private static List<String> row(Element within, String heading) {
		return within.select("tr")
			.stream()
			.filter((row) -> row.selectFirst("th[scope=row]") != null
					&& row.selectFirst("th[scope=row]").text().startsWith(heading))
			.findFirst()
			.orElseThrow(() -> new AssertionError("no row " + heading))
			.select("td")
			.stream()
			.map(Element::text)
			.toList();
	}

	private static Element section(Document page, String id) {
		return page.getElementById(id);
	}

	@Test
	void saysWhoThePatientIsAndWhereTheSeriesStands() {
		var page = page();

		assertThat(page.selectFirst("h1").text()).isEqualTo("Quayle, Orsolya");
		assertThat(page.title()).isEqualTo("Quayle, Orsolya, Series 1 · open · 3 of 4 planned sessions · Seriatim");
		assertThat(page.selectFirst("dl.facts").text()).contains("Record number T-100", "21 Nov 1990 35 years",
				"Phototype IV", "Skin thickness Thick", "Sebum Oily", "Protocol version 1");
	}

	@Test
	void comparesEachScarWithItsBaseline() {
		assessScars();

		var scars = section(page(), "scars");

		assertThat(row(scars, "A1")).containsExactly("Boxcar Nose", "4.2 × 3.1", "Shallow", "0.70 mm", "0.35 mm",
				"50 %", "shallower, beyond error", "", "25 to 50 %");
		assertThat(row(scars, "A2").subList(3, 7)).containsExactly("grade 3",
				"grade 2 20 Jul 2026 last assessed after session 1", "1 grade better", "not judged");
		assertThat(row(scars, "A3").subList(2, 7)).containsExactly("Minimal", "0.40 mm", "0.00 mm", "100 %",
				"resolved");
		assertThat(row(scars, "A4").subList(3, 7)).containsExactly("grade 2", "grade 3", "1 grade worse", "not judged");
		assertThat(row(scars, "A5").subList(2, 9)).containsExactly("–", "–", "–", "–", "–", "", "–");
		assertThat(row(scars, "A6").subList(3, 7)).containsExactly("0.50 mm", "0.45 mm", "10 %", "within error");
		assertThat(row(scars, "A7").subList(3, 7)).containsExactly("0.30 mm", "0.40 mm", "−33 %",
				"deeper, beyond error");
		assertThat(scars.selectFirst("th:contains(Baseline)").text()).isEqualTo("Baseline 1 Jun 2026, gauge");
		assertThat(scars.select("[aria-label='Baseline to the last stage: 0.70, 0.56, none, 0.35']")).hasSize(1);
	}

	@Test
	void saysWhatMeasurementErrorRestsOn() {
		assessScars();

		assertThat(section(page(), "measurement-error").text()).contains("at least 17 % shallower or 21 % deeper",
				"10 pairs of ratings between assessors in 5 patients");
	}

	@Test
	void judgesNoChangeWhereRatingsAreTooFewAndSaysWhatIsMissing() {
		this.database.sql("update scar_assessment set repeat = 1, version = version + 1 where depth_mm = 1.1").update();
		assessScars();

		var page = page();

		assertThat(row(section(page, "scars"), "A1").get(6)).isEqualTo("not judged");
		assertThat(section(page, "measurement-error").text()).contains(
				"No change is judged: measurement error needs 10 pairs of ratings of one scar on one day from 5 patients",
				"0 pairs between assessors from 0 patients", "1 pairs within assessors from 1 patients");
	}

	@Test
	void sumsTheScarsUpByType() {
		assessScars();

		// boxcar: 50, 10 and -33.3 %, mean 8.9 %
		assertThat(row(section(page(), "scars"), "Boxcar")).containsExactly("4", "9 % (3)", "0", "1", "1", "1", "0");
	}

	@Test
	void saysWhatChangedSinceTheLastSession() {
		assessScars();
		this.patient.pores("nose", "2026-06-01", "grade", 3);
		this.patient.pores("nose", "2026-07-20", "grade", 3);
		this.patient.pores("nose", "2026-10-10", "grade", 2);
		var injected = this.patient.injection(this.lastSession, 1, "region", "chin", "pain_nrs", 7);
		assertThat(injected).isNotNull();
		var lump = this.patient.finding(this.lastSession, "lump", "2026-09-08", "region", "chin");
		this.patient.seen(lump, "2026-09-21", true);
		this.patient.seen(lump, "2026-09-28", false);
		var open = this.patient.finding(this.lastSession, "lump", "2026-09-07", "region", "nose");
		this.patient.seen(open, "2026-09-30", true);
		this.patient.contact(this.lastSession, "2026-09-10", "outcome", "no_answer");
		this.patient.contact(this.lastSession, "2026-09-30", "lumps_present", true, "pain_nrs", 2, "note",
				"Tight when smiling");

		var since = section(page(), "since");

		assertThat(since.selectFirst("h2").text()).isEqualTo("Since session 3 on 7 Sep 2026, 74 days");
		// A1 ln(0.35/0.56), A6 ln(0.45/0.48), A7 ln(0.40/0.35): mean -0.1337, so -12.5 %
		assertThat(since.text()).contains("1 resolved", "1 shallower beyond error", "2 within measurement error",
				"−13 % Depth, geometric mean over 3 scars; beyond measurement error from −10 % on",
				"Assessment after session 3 against the assessment after session 1",
				"of 4 scars 1 shallower beyond error, 1 resolved, 1 within error, 1 deeper",
				"Of 1 region: 1 better, 0 worse, 0 the same grade", "2 lumps: 1 seen gone, 1 not",
				"last present day 23", "gone after day 14, by day 21", "6 of 10 at the session, worst 7 of 10: Chin",
				"a lump is there, pain 2 of 10", "Tight when smiling", "30 Sep 2026, day 23, by phone",
				"1 of 2 contacts failed");
	}

	@Test
	void showsPoresByRegion() {
		this.patient.pores("nose", "2026-06-01", "grade", 3, "pores_per_cm2", 120);
		this.patient.pores("nose", "2026-10-10", "grade", 2, "pores_per_cm2", 90);

		assertThat(row(section(page(), "pores"), "Nose")).containsExactly("3", "2", "−1", "", "120", "90", "−25 %",
				"1 Jun 2026 to 10 Oct 2026");
	}

	@Test
	void scoresCompleteCountsAndNotesTheWeights() {
		countTheFace("2026-06-01", 12);
		countTheFace("2026-10-10", 4);
		this.patient.count("nose", "ice_pick", "2026-11-01", 1);
		this.patient.scale("gais", "practitioner", "2026-10-10", 2);
		this.patient.scale("sat-0-10", "patient", "2026-06-01", 4);
		this.patient.scale("sat-0-10", "patient", "2026-10-10", 7);

		var scales = section(page(), "scales");

		// 12 ice picks are class 2, 4 are class 1; 3 boxcars class 1: 2*15 + 20 and 15 +
		// 20
		assertThat(row(scales, "ECCA")).containsExactly("lower", "50", "–", "–", "35", "−15");
		assertThat(scales.text()).contains("written down from memory of Dreno et al. 2007");
		assertThat(row(scales, "GAIS, practitioner")).containsExactly("higher", "–", "–", "–", "much improved",
				"is a change");
		assertThat(row(scales, "Satisfaction")).containsExactly("higher", "4", "–", "–", "7", "+3");
		assertThat(row(scales, "Ice pick")).containsExactly("12 in 17 regions", "–", "–", "1 in 1 region");
	}

	private void countTheFace(String day, int icePicks) {
		for (var region : FaceCount.faceRegions()) {
			for (var type : FaceCount.scoredTypes()) {
				var there = region == FaceCount.faceRegions().get(0);
				var count = (there && type == CountedType.ICE_PICK) ? icePicks
						: (there && type == CountedType.BOXCAR) ? 3 : 0;
				this.patient.count(region.word(), type.word(), day, count);
			}
		}
	}

	@Test
	void scoresNoIncompleteCountAndSaysWhatIsMissing() {
		this.patient.count("nose", "ice_pick", "2026-06-01", 7);
		this.patient.scale("sat-0-10", "patient", "2026-06-01", 4);

		var scales = section(page(), "scales");

		assertThat(scales.text()).contains("No ECCA score: 1 of 102 counts").doesNotContain("Dreno");
	}

	@Test
	void showsVolumesPointsAndLayersAndWhatDoesNotAddUp() {
		var whole = this.patient.preparation(this.firstSession, 1, "stock_drawn_ml", 1.0, "added_diluent_ml", 0,
				"lidocaine_ml", 0.5, "discarded_ml", 0.05, "lot", "LT1");
		this.patient.injection(this.firstSession, 1, "preparation_id", whole, "layer", "mid_dermis", "points", 30,
				"volume_ml", 1.45);
		var lost = this.patient.preparation(this.lastSession, 1, "stock_drawn_ml", 2.0, "added_diluent_ml", 0.5,
				"lidocaine_ml", 0.5, "discarded_ml", 0.3, "lot", "LT2", "expires_on", "2026-09-06");
		this.patient.injection(this.lastSession, 1, "preparation_id", lost, "layer", "deep_dermis", "points", 10,
				"volume_ml", 1.2);
		this.patient.injection(this.lastSession, 2, "preparation_id", lost, "layer", "below_dermis", "points", 8,
				"volume_ml", 0.8, "region", "chin");

		var page = page();

		var done = section(page, "treatment");
		assertThat(row(done, "Session 1").subList(0, 8)).containsExactly("biostimulator A, lot LT1", "1.50", "1.45",
				"0.05", "30", "1.45", "–", "–");
		assertThat(row(done, "Session 3").subList(0, 8)).containsExactly("biostimulator A, lot LT2", "3.00", "2.00",
				"0.30", "18", "–", "1.20", "0.80");
		assertThat(row(done, "Nose")).containsExactly("1.45 mL · 30 mid dermis", "", "1.20 mL · 10 deep dermis");
		assertThat(section(page, "data-quality").text())
			.contains("2 data-quality items", "Session 3, preparation 1: 0.70 mL are neither injected nor discarded",
					"Session 3, preparation 1: expired on 6 Sep 2026")
			.doesNotContain("Session 1");
		assertThat(page.select("[aria-label=Alerts]").text()).contains("Session 3: placed below the dermis");
	}

	@Test
	void asksAboutDatesAndPlacesThatContradictThemselves() {
		this.patient.scar("A1", "region", "chin", "map_x", 0.5, "map_y", 0.15);
		this.patient.scar("A2", "region", "forehead", "map_x", 0.5, "map_y", 0.15);
		var lump = this.patient.finding(this.firstSession, "lump", "2026-06-03", "region", "chin", "gone_on",
				"2026-06-10");
		this.patient.seen(lump, "2026-06-02", true);
		this.patient.seen(lump, "2026-06-12", true);

		assertThat(section(page(), "data-quality").select("li").eachText()).containsExactly(
				"Scar A1: its mark lies outside its region (Chin)",
				"Lump, Chin: seen present on 2 Jun 2026, before it was first noted",
				"Lump, Chin: gone on 10 Jun 2026 according to the patient, which an observation contradicts");
	}

	@Test
	void showsAPossibleEmergencyBeforeAnythingElse() {
		this.patient.finding(this.lastSession, "visual_symptom", "2026-09-07", "region", "glabella");
		this.patient.finding(this.lastSession, "burn", "2026-09-08", "region", "nose");
		this.patient.finding(this.lastSession, "bruise", "2026-09-08", "region", "chin");

		var page = page();

		var alerts = page.selectFirst("[aria-label=Alerts]");
		assertThat(alerts.selectFirst("[role=alert]").text()).contains(
				"Possible emergency. Follow this clinic's emergency protocol now and involve the responsible licensed clinician. This record gives no treatment or dosing advice.",
				"Visual symptom, Glabella, since 7 Sep 2026");
		assertThat(alerts.text()).contains("Treatment on hold", "Burn, Nose, since 8 Sep 2026",
				"1 finding is not closed and not known to have gone", "Bruise, Chin");
		assertThat(section(page, "advice").text()).contains("On hold")
			.contains("No date is advised while a finding holds treatment");
	}

	@Test
	void advisesWithReasonsThatLeadToTheRecordsTheyRestOn() {
		var scar = this.patient.scar("A1");
		this.patient.injection(this.lastSession, 1, "scar_id", scar, "target", "scar", "layer", "superficial_dermis");
		var lump = this.patient.finding(this.lastSession, "lump", "2026-09-08", "scar_id", scar);
		this.patient.seen(lump, "2026-09-30", true);
		this.patient.contact(this.lastSession, "2026-09-30", "lumps_present", true);

		var page = page();

		var advice = section(page, "advice");
		assertThat(advice.text()).contains("Contact first, window provisional",
				"After session 3 on 7 Sep 2026, 74 days ago", "First day Mon 2 Nov 2026 day 56, 18 days ago",
				"Last day Mon 16 Nov 2026 day 70, 4 days ago", "Overdue since 16 Nov 2026",
				"consider the mid dermis and less per point", "Protocol version 1");
		assertThat(section(page, "why").text()).contains("lasted beyond day 14", "still present on day 23");
		assertThat(page.select("a[href^='#finding-']").eachAttr("href")).contains("#finding-" + lump);
		assertThat(page.select("a[href^='#']").eachAttr("href")).allSatisfy(
				(href) -> assertThat(page.getElementById(href.substring(1))).as("the place %s", href).isNotNull());
	}

	@Test
	void drawsTheTimeLineAndSaysTheSameInATable() {
		assessScars();
		var lump = this.patient.finding(this.lastSession, "lump", "2026-09-08", "region", "chin");
		this.patient.seen(lump, "2026-09-21", true);
		this.patient.seen(lump, "2026-09-28", false);
		this.patient.contact(this.lastSession, "2026-09-28", "lumps_present", false);

		var line = section(page(), "time-line");

		assertThat(line.select("svg title").eachText()).contains("Session 3, 7 Sep 2026, r.vale",
				"Lump, Chin: gone after day 14, by day 21", "Contact on 28 Sep 2026: Reached, no lump",
				"Assessed on 10 Oct 2026: scars");
		assertThat(line.select("tbody tr").eachText()).containsExactly("1 Jun 2026 Session 1, day 0 Session 1 r.vale",
				"1 Jun 2026 – Assessment scars", "20 Jul 2026 Session 2, day 0 Session 2 r.vale",
				"20 Jul 2026 Session 1, day 49 Assessment scars", "7 Sep 2026 Session 3, day 0 Session 3 r.vale",
				"8 Sep 2026 Session 3, day 1 Lump, Chin gone after day 14, by day 21",
				"28 Sep 2026 Session 3, day 21 Contact by phone Reached, no lump",
				"10 Oct 2026 Session 3, day 33 Assessment scars");
	}

	@Test
	void writesHostileWordsAsText() {
		this.database.sql("""
				update patient set family_name = '<script>alert(1)</script>', given_name = '"><img src=x>',
					version = version + 1 where record_number = 'T-100'""").update();
		this.patient.scar("<b>x</b>", "map_x", 0.5, "map_y", 0.5);
		this.patient.contact(this.lastSession, "2026-09-30", "note", "</td><script>alert(2)</script>");

		var page = page();

		assertThat(page.selectFirst("h1").text()).isEqualTo("<script>alert(1)</script>, \"><img src=x>");
		assertThat(page.select("script:not([src]), img, main b")).isEmpty();
	}

	@Test
	void saysWhatToDoWhereNothingIsOnRecord() {
		this.series = this.patient.series(2);

		var page = page();

		assertThat(section(page, "advice").text()).contains("No advice before the first session", "Assess the scars");
		for (var place : List.of("time-line", "scars", "pores", "scales", "treatment", "findings", "contacts")) {
			assertThat(section(page, place).select(".empty-state")).as(place).hasSize(1);
		}
	}

	@Test
	void givesAnEndedSeriesNoAdviceButTheDayOfItsOutcome() {
		this.database.sql("""
				update series set status = 'completed', ended_on = date '2026-10-01', reason = 'goal reached',
					version = version + 1""").update();

		var page = page();

		// 84 days after 7 September
		assertThat(section(page, "advice").text()).contains("This series is completed, 1 Oct 2026",
				"from 30 Nov 2026 on");
		assertThat(section(page, "advice").select("form")).isEmpty();
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = { "FRONT_DESK", "ADMINISTRATOR" })
	void isClosedToWhoDoesNotCareForPatients(Role role) {
		assertThat(get(role)).hasStatus(HttpStatus.FORBIDDEN);
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, mode = Mode.EXCLUDE, names = { "FRONT_DESK", "ADMINISTRATOR" })
	void isOpenToWhoDoes(Role role) {
		assertThat(get(role)).hasStatusOk();
	}

	@Test
	void isNotFoundWhereThereIsNoSuchSeries() {
		this.series = SeriesId.next();

		assertThat(get(Role.PRACTITIONER)).hasStatus(HttpStatus.NOT_FOUND);
	}

	@Test
	void entersItsOpeningInTheAuditLog() {
		get(Role.ASSISTANT);

		assertThat(this.database.sql("""
				select s.name from audit_entry a join staff s on s.id = a.staff_id
				where action = 'opened' and patient_id = :patient""")
			.param("patient", this.patient.id().value())
			.query(String.class)
			.list()).containsExactly("assistant");
	}

	private MvcTestResult decide(Role role, String... parameters) {
		var request = this.pages.post()
			.uri("/series/" + this.series + "/advice/decision")
			.with(csrf())
			.with(this.staff.as(role))
			.param("advice",
					this.database.sql("select id from advice where replaced_at is null")
						.query(UUID.class)
						.single()
						.toString());
		for (int i = 0; i < parameters.length; i += 2) {
			request = request.param(parameters[i], parameters[i + 1]);
		}
		return request.exchange();
	}

	@Test
	void recordsThatTheAdviceWasAccepted() {
		page();

		assertThat(decide(Role.PRACTITIONER, "accept", "true")).hasStatus(HttpStatus.FOUND)
			.redirectedUrl()
			.isEqualTo("/series/" + this.series + "#advice");

		assertThat(section(page(), "decision").text()).contains("Accepted by practitioner, 20 Nov 2026, 09:00");
	}

	@Test
	void recordsAnOverrideWithItsReasonBesideTheAdvice() {
		page();

		decide(Role.CLINIC_LEAD, "reason", "Travels <until> January", "firstDay", "2027-01-11", "lastDay",
				"2027-01-25");

		var advice = section(page(), "advice");
		assertThat(advice.text()).contains("Overridden by clinic_lead, 20 Nov 2026, 09:00", "Travels <until> January",
				"another window: Mon 11 Jan 2027 to Mon 25 Jan 2027", "First day Mon 19 Oct 2026");
	}

	@Test
	void refusesAnOverrideWithoutAReasonAndKeepsWhatWasTyped() {
		page();

		var refused = decide(Role.PRACTITIONER, "firstDay", "2026-12-01", "lastDay", "2026-11-01");

		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		var page = parsed(refused);
		assertThat(page.selectFirst(".error-summary").text()).contains("Reason: Say why the advice is overridden.");
		assertThat(page.selectFirst("#firstDay").val()).isEqualTo("2026-12-01");
		assertThat(this.database.sql("select count(*) from advice_decision").query(Integer.class).single()).isZero();
	}

	@Test
	void refusesAWindowThatEndsBeforeItBegins() {
		page();

		var refused = parsed(
				decide(Role.PRACTITIONER, "reason", "Travels", "firstDay", "2026-12-01", "lastDay", "2026-11-30"));

		assertThat(refused.selectFirst(".error-summary").text())
			.contains("Last day of your window: Enter a day that is not before the first one.");
	}

	@Test
	void tellsWhenTheAdviceChangedWhileSomebodyWasDeciding() {
		page();
		var old = this.database.sql("select id from advice where replaced_at is null").query(UUID.class).single();
		this.patient.finding(this.lastSession, "burn", "2026-09-08", "region", "nose");
		page();

		var conflict = this.pages.post()
			.uri("/series/" + this.series + "/advice/decision")
			.with(csrf())
			.with(this.staff.as(Role.PRACTITIONER))
			.param("advice", old.toString())
			.param("accept", "true")
			.exchange();

		assertThat(conflict).hasStatus(HttpStatus.CONFLICT);
		assertThat(section(parsed(conflict), "advice").text()).contains("The record changed while you were deciding",
				"On hold");
	}

	@Test
	void asksForANewDecisionWhenTheAdviceHasChangedSince() {
		page();
		decide(Role.PRACTITIONER, "accept", "true");
		this.patient.finding(this.lastSession, "burn", "2026-09-08", "region", "nose");

		assertThat(section(page(), "decision").text())
			.contains("Accepted by practitioner, 20 Nov 2026, 09:00. The advice has changed since: decide again.");
	}

	@Test
	void leavesTheDecisionToThoseWhoMayTakeIt() {
		page();

		assertThat(decide(Role.ASSISTANT, "accept", "true")).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(section(parsed(get(Role.ASSISTANT)), "decision").select("form")).isEmpty();
		assertThat(section(parsed(get(Role.PRACTITIONER)), "decision").select("form")).hasSize(2);
	}

	@Test
	void saysWhatIsWrongWithABookedTreatment() {
		this.patient.appointment("2026-11-30T10:00Z", "2026-11-30T11:00Z");

		// not heard of since session 3: 42 days, window of 14
		assertThat(section(page(), "advice").text()).contains("Treatment booked 30 Nov 2026, 10:00, r.vale",
				"after the last day, 2 Nov 2026");
	}

}
