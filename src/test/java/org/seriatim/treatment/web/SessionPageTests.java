package org.seriatim.treatment.web;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SideCheck;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.TestTreatment;
import org.seriatim.treatment.TreatmentHistory;
import org.seriatim.treatment.VialFate;
import org.seriatim.treatment.domain.DraftId;
import org.seriatim.treatment.domain.SessionDrafts;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@SignedInAs(Role.PRACTITIONER)
class SessionPageTests {

	@Autowired
	MockMvcTester pages;

	@Autowired
	TreatmentHistory history;

	@Autowired
	SessionDrafts drafts;

	@Autowired
	TestStaff staff;

	@Autowired
	JdbcClient database;

	TestTreatment given;

	PatientId patient;

	SeriesId series;

	ScarId scar;

	@BeforeEach
	void aPatientInTreatment() {
		this.given = new TestTreatment(this.database);
		this.patient = this.given.patient("T-1");
		this.given.screened(this.patient, "2026-11-20");
		this.series = this.given.series(this.patient);
		this.scar = this.given.scar(this.patient, "A1", Region.CHEEK_MEDIAL_LEFT);
	}

	@Test
	void offersTheNextNumberTodayAndWhoIsSignedIn() {
		this.given.session(this.series, 3, "2026-10-01");
		assertThat(get(newSession())).hasStatusOk()
			.bodyText()
			.contains("name=\"number\" value=\"4\"", "name=\"treatedOn\" value=\"2026-11-20\"",
					"A1 · Left medial cheek", "Record the session")
			.containsPattern("selected=\"selected\"[^>]*>practitioner<");
	}

	@Test
	void recordsWhatWasPreparedAndPlaced() {
		var answer = post(newSession(), form());
		var session = only();
		assertThat(answer).hasRedirectedUrl("/sessions/" + session.id());
		assertThat(session.preparations()).hasSize(1);
		assertThat(session.injections()).extracting(RecordedInjection::region)
			.containsExactly(Region.CHEEK_MEDIAL_LEFT, Region.FOREHEAD);
		var first = session.injections().get(0);
		assertThat(first.scar()).isEqualTo(this.scar);
		assertThat(first.target()).isEqualTo(Target.SCAR);
		assertThat(first.layer()).isEqualTo(Layer.DEEP_DERMIS);
		assertThat(first.endpoints().blanching()).isTrue();
		assertThat(first.endpoints().bleeding()).isFalse();
		assertThat(first.endpoints().baseLifted()).isNull();
		assertThat(get("/sessions/" + session.id())).hasStatusOk()
			.bodyText()
			.contains("Session 1, 20 Nov 2026", "biostimulator A", "deep dermis", "blanching, no bleeding", "Adds up",
					"Lidocaine given that day: 18.4 mg, 7 % of the reference limit of 270.0 mg")
			.doesNotContain("Does not add up");
	}

	@Test
	void recordsAVolumeThatDoesNotAddUpOnlyWithItsReason() {
		var form = form();
		form.put("preparations[0].discardedMl", "0.3");
		assertThat(RefusedForm.messages(post(newSession(), form))).containsOnly(Map.entry("preparations0.balanceReason",
				"5 mL prepared, but 4.6 mL injected and 0.3 mL discarded; difference 0.1 mL. Correct a volume, or say why."));
		form.put("preparations[0].balanceReason", "a drop was lost");
		post(newSession(), form);
		assertThat(get("/sessions/" + only().id())).bodyText()
			.contains("Does not add up",
					"Preparation 1: 5.00 mL prepared, but 4.60 mL injected and 0.30 mL discarded; difference 0.10 mL.");
	}

	@Test
	void showsCautionsAndGivesNoDose() {
		var form = form();
		form.put("preparations[0].expiresOn", "2026-11-19");
		form.put("preparations[0].expiredReason", "the manufacturer extended it");
		form.put("injections[0].layer", "below_dermis");
		form.put("injections[1].region", "nose");
		form.put("vesselsSeen", "true");
		form.put("topicalMinutes", "301");
		post(newSession(), form);
		assertThat(get("/sessions/" + only().id())).bodyText()
			.contains("Preparation 1: the lot had expired on 19 Nov 2026.",
					"Injection 1, Left medial cheek: placed below the dermis.",
					"Nose: vessels here whose occlusion has led to loss of sight",
					"stayed on for 301 minutes; its product information says at most 300");
	}

	@Test
	void saysWhyNoLimitForLidocaineIsShown() {
		var form = form();
		form.remove("weightKg");
		post(newSession(), form);
		assertThat(get("/sessions/" + only().id())).bodyText()
			.contains("Lidocaine given that day: 18.4 mg", "No limit can be shown: there is no weight on record.");
	}

	@Test
	void asksForAConfirmationWhereVesselsAre() {
		var form = form();
		form.put("injections[1].region", "glabella");
		var answer = post(newSession(), form);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(answer))
			.containsOnly(Map.entry("vesselsSeen", "Confirm that you have read the caution, or correct the region."));
		form.put("vesselsSeen", "true");
		assertThat(post(newSession(), form)).hasStatus3xxRedirection();
	}

	/** Of a list of numbers, where only a number that is offered can be chosen. */
	private static final String A_NUMBER = "Enter a whole number.";

	/** What a form alone shows to be wrong: field, value, message. */
	private static final String WRONG = """
			number                           | 0          | Enter a whole number from 1 to 999.
			number                           |            | Fill this in.
			treatedOn                        |            | Fill this in.
			treatedOn                        | 2026-13-45 | Enter a date as year-month-day, for example 2026-03-21.
			practitioner                     |            | Fill this in.
			practitioner                     | 01980000-0000-7000-8000-000000000000 | Choose one of the practitioners offered.
			practitioner                     | somebody   | Choose one of the values offered.
			weightKg                         | 600        | Enter a number from 30 to 300 kg with at most 1 decimal.
			combination                      | laser      | Choose one of the values offered.
			topicalMinutes                   | -1         | Enter a whole number from 0 to 1440 min.
			painNrs                          | 11         | Enter a whole number from 0 to 10.
			oralAnalgesic                    | maybe      | Choose one of the values offered.
			preparations[0].product          |            | Name the product, or leave the whole row empty.
			preparations[0].expiresOn        | soon       | Enter a date as year-month-day, for example 2026-03-21.
			preparations[0].expiresOn        | +999999999-12-31 | Enter the expiry that is printed on the vial.
			preparations[0].vialMg           | 0          | Enter a number from 0.1 to 10000 mg with at most 2 decimals.
			preparations[0].diluentMl        | -1         | Enter a number from 0 to 100 mL with at most 3 decimals.
			preparations[0].addedDiluentMl   | a little   | Enter a number from 0 to 100 mL with at most 3 decimals.
			preparations[0].lidocainePercent | 11         | Enter a number from 0 to 10 % with at most 2 decimals.
			preparations[0].lidocaineMl      | -0.5       | Enter a number from 0 to 100 mL with at most 3 decimals.
			preparations[0].discardedMl      | 1.23456    | Enter a number from 0 to 100 mL with at most 3 decimals.
			injections[0].preparation        | first      | Enter a whole number.
			injections[0].region             |            | Choose the region, or remove the row.
			injections[0].region             | elbow      | Choose one of the values offered.
			injections[0].target             |            | Choose pores or scar.
			injections[1].layer              | fat        | Choose one of the values offered.
			injections[1].points             | 0          | Enter a whole number from 1 to 2000.
			injections[1].volumeMl           | -0.1       | Enter a number from 0 to 50 mL with at most 3 decimals.
			injections[1].needleGauge        | 9          | Enter a whole number from 10 to 40.
			injections[1].needleMm           | 0          | Enter a number from 0.1 to 60 mm with at most 1 decimal.
			injections[1].painNrs            | 10.5       | Enter a whole number from 0 to 10.
			number                           | 1.5        | Enter a whole number from 1 to 999.
			weightKg                         | 29         | Enter a number from 30 to 300 kg with at most 1 decimal.
			weightKg                         | 1,000      | Enter a number from 30 to 300 kg with at most 1 decimal.
			topicalMinutes                   | 1441       | Enter a whole number from 0 to 1440 min.
			topicalGrams                     | -1         | Enter a number from 0 to 500 g with at most 1 decimal.
			topicalGrams                     | a tube     | Enter a number from 0 to 500 g with at most 1 decimal.
			topicalAreaCm2                   | 5001       | Enter a number from 0 to 5000 cm² with at most 1 decimal.
			topicalAreaCm2                   | 1e3        | Enter a number from 0 to 5000 cm² with at most 1 decimal.
			vibration                        | 2          | Choose one of the values offered.
			massage                          | later      | Choose one of the values offered.
			instructionsGiven                | perhaps    | Choose one of the values offered.
			sides[0].even                    | almost     | Choose one of the values offered.
			sides[1].lumpFelt                | small      | Choose one of the values offered.
			sides[2].ointment                | some       | Choose one of the values offered.
			preparations[0].stockDrawnMl     | 100.1      | Enter a number from 0 to 100 mL with at most 3 decimals.
			preparations[0].hyaluronicMg     | -0.1       | Enter a number from 0 to 10000 mg with at most 2 decimals.
			preparations[0].reconstitutedAt  | yesterday  | Enter a day and a time.
			preparations[0].firstUsedAt      | 25:00      | Enter a day and a time.
			preparations[0].syringes         | 0          | Enter a whole number from 1 to 50.
			preparations[0].syringes         | 2.5        | Enter a whole number from 1 to 50.
			preparations[0].vialFate         | other_patient | Choose one of the values offered.
			preparations[0].discardReason    | lost       | Choose one of the values offered.
			injections[1].points             | 2001       | Enter a whole number from 1 to 2000.
			injections[1].pointMl            | 0          | Enter a number from 0.001 to 5 mL with at most 4 decimals.
			injections[1].pointMl            | a drop     | Enter a number from 0.001 to 5 mL with at most 4 decimals.
			injections[1].angleDegrees       | 91         | Enter a whole number from 0 to 90 °.
			injections[1].areaCm2            | 0          | Enter a number from 0.1 to 1000 cm² with at most 1 decimal.
			injections[1].spacingMm          | 0.5        | Enter a number from 1 to 100 mm with at most 1 decimal.
			injections[1].needleGauge        | thin       | Enter a whole number from 10 to 40.
			injections[1].bleeding           | little     | Choose one of the values offered.
			""";

	/**
	 * As many as can be wrong at once are sent at once: each is answered at its field,
	 * and nothing else is.
	 */
	@Test
	void saysBesideEveryFieldWhatToMend() {
		var rounds = new ArrayList<Map<String, String[]>>();
		for (var line : WRONG.lines().toList()) {
			var cells = Stream.of(line.split("\\|")).map(String::strip).toArray(String[]::new);
			var round = rounds.stream().filter((one) -> !one.containsKey(cells[0])).findFirst().orElseGet(() -> {
				rounds.add(new LinkedHashMap<>());
				return rounds.get(rounds.size() - 1);
			});
			round.put(cells[0], cells);
		}
		assertThat(rounds.stream().mapToInt(Map::size).sum()).isGreaterThanOrEqualTo(60);
		for (var round : rounds) {
			var form = form();
			var expected = new LinkedHashMap<String, String>();
			round.forEach((field, cells) -> {
				form.put(field, cells[1]);
				expected.put(field.replace("[", "").replace("]", ""), cells[2]);
			});
			var answer = post(newSession(), form);
			assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
			assertThat(RefusedForm.messages(answer)).containsExactlyInAnyOrderEntriesOf(expected);
			// what was typed stands there still; what was chosen from a list cannot be
			// anything else
			round.values()
				.stream()
				.filter((cells) -> !cells[1].isEmpty() && !cells[2].startsWith("Choose") && !cells[2].equals(A_NUMBER))
				.forEach((cells) -> assertThat(answer).bodyText()
					.contains("name=\"" + cells[0] + "\" value=\"" + cells[1] + "\""));
		}
		assertThat(this.history.sessionsOf(this.patient)).isEmpty();
	}

	/** What only the record shows to be wrong. */
	@ParameterizedTest
	@CsvSource(delimiter = '|',
			textBlock = """
					treatedOn                        | 2026-11-21 | A session is recorded on its day or later, not before.
					rfDepthMm                        | 1.5        | Choose radiofrequency before or after, or leave the depth empty.
					preparations[0].stockDrawnMl     | 5.1        | More was drawn than was in the vial: at most 5 mL.
					preparations[0].lidocainePercent |            | Enter the strength of the lidocaine, or 0 mL.
					injections[0].preparation        | 7          | There is no preparation 7 in this session.
					injections[0].scar               | 01980000-0000-7000-8000-000000000000 | This scar is not one of this patient's.
					preparations[0].expiresOn        | 2026-11-19 | The lot expired on 19 Nov 2026. Say why it was used all the same, or correct the expiry.
					preparations[0].reconstitutedAt  | 2026-11-21T08:00 | A vial for this session was prepared and used from 21 Sep 2026 to 20 Nov 2026.
					preparations[0].reconstitutedAt  | -999999999-01-01T00:00 | A vial for this session was prepared and used from 21 Sep 2026 to 20 Nov 2026.
					preparations[0].vialFate         | nothing_left | 1 mL stayed in the vial: say what became of it, or correct a volume.
					""")
	void saysBesideTheFieldWhatDoesNotFit(String field, @Nullable String value, String message) {
		var form = form();
		form.put(field, (value != null) ? value : "");
		var answer = post(newSession(), form);
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		var beside = message.startsWith("The lot expired") ? "preparations[0].expiredReason" : field;
		assertThat(RefusedForm.messages(answer))
			.containsOnly(Map.entry(beside.replace("[", "").replace("]", ""), message));
		assertThat(this.history.sessionsOf(this.patient)).isEmpty();
	}

	@Test
	void refusesAFirstUseBeforeTheReconstitution() {
		var form = form();
		form.put("preparations[0].reconstitutedAt", "2026-11-20T09:00");
		form.put("preparations[0].firstUsedAt", "2026-11-20T08:59");
		assertThat(RefusedForm.messages(post(newSession(), form)))
			.containsOnly(Map.entry("preparations0.firstUsedAt", "The first use is not before the reconstitution."));
	}

	@Test
	void takesTheVolumeOfAllPointsWhereNobodySaysWhatWasGiven() {
		var form = form();
		form.remove("injections[0].volumeMl");
		form.put("injections[0].pointMl", "0.2");
		assertThat(post(newSession(), form)).hasStatus3xxRedirection();
		assertThat(only().injections().get(0).volumeMl()).isEqualByComparingTo("0.4");
		assertThat(get("/sessions/" + only().id())).bodyText().contains("2 of 0.2 mL", "Adds up");
	}

	@Test
	void recordsHandlingAndTheEndOfTheSessionAndShowsThem() {
		var form = form();
		form.put("preparations[0].hyaluronicMg", "40");
		form.put("preparations[0].reconstitutedAt", "2026-11-20T05:00");
		form.put("preparations[0].firstUsedAt", "2026-11-20T09:10");
		form.put("preparations[0].syringes", "2");
		form.put("preparations[0].vialFate", "discarded");
		form.put("injections[1].areaCm2", "60");
		form.put("injections[1].spacingMm", "10");
		form.put("sides[0].side", "right");
		form.put("sides[0].even", "true");
		form.put("sides[2].side", "left");
		form.put("sides[2].even", "false");
		form.put("sides[2].lumpFelt", "true");
		form.put("instructionsGiven", "true");
		post(newSession(), form);
		var session = only();
		assertThat(session.aftercare().right().even()).isTrue();
		assertThat(session.aftercare().middle()).isEqualTo(SideCheck.UNKNOWN);
		assertThat(session.aftercare().left().lumpFelt()).isTrue();
		assertThat(session.preparations().get(0).handling().vialFate()).isEqualTo(VialFate.DISCARDED);
		// 40 mg in 5 mL of diluent, 4 of them in 5 mL: 6.4 mg/mL, 4.6 mL given; 60 cm² at
		// 10 mm are 60 points
		assertThat(get("/sessions/" + session.id())).bodyText()
			.contains("Stood 4 h 10 min before its first use", "1.00 mL left in the vial: discarded",
					"0.00 mL left in 2 syringe(s)", "Of hyaluronic acid each holds 6.4 mg; 29.4 mg were given",
					"60 points", "not even, lump felt", "Left side: a lump was felt after the injections",
					"Sat 21 Nov 2026");
		assertThat(get("/sessions/" + session.id() + "/edit")).bodyText()
			.contains("value=\"2026-11-20T05:00\"", "value=\"60\"");
	}

	@Test
	void savesWhatIsTypedBeforeAnythingIsRecorded() {
		var page = UUID.randomUUID().toString();
		var form = form();
		form.put("page", page);
		form.put("save", "true");
		form.put("weightKg", "6l");
		assertThat(post(newSession(), form)).hasStatusOk()
			.bodyText()
			.contains("id=\"saved\"", "data-at=\"09:00:00\"", "data-action=\"/drafts/", "id=\"checks\"",
					"In all 62 points, 4.60 of 5.00 mL injected")
			.doesNotContain("<!DOCTYPE html>");
		assertThat(this.drafts.open()).hasSize(1);
		var address = "/drafts/" + this.drafts.open().get(0).id();
		form.put("weightKg", "61");
		form.put("version", this.drafts.open().get(0).version().toString());
		assertThat(post(address, form)).hasStatusOk();
		assertThat(get(address)).bodyText().contains("value=\"61\"");
		assertThat(get(newSession())).bodyText().contains("Begun already", address);

		form.put("page", UUID.randomUUID().toString());
		assertThat(post(address, form)).hasStatus(HttpStatus.CONFLICT);
		form.put("page", page);
		form.remove("save");
		assertThat(post(address, form)).hasRedirectedUrl("/sessions/" + only().id());
		form.put("save", "true");
		form.put("version",
				this.drafts.byId(new DraftId(UUID.fromString(address.substring(8))))
					.orElseThrow()
					.version()
					.toString());
		assertThat(post(address, form)).hasStatus(HttpStatus.GONE);
		assertThat(this.history.sessionsOf(this.patient)).hasSize(1);
	}

	@ParameterizedTest
	@ValueSource(strings = { "", "page one" })
	void savesNothingForNoPage(String page) {
		var form = form();
		form.put("page", page);
		form.put("save", "true");
		assertThat(post(newSession(), form)).hasStatus(HttpStatus.BAD_REQUEST);
		assertThat(this.drafts.open()).isEmpty();
	}

	@Test
	void refusesAScarForPores() {
		var form = form();
		form.put("injections[0].target", "pores");
		assertThat(RefusedForm.messages(post(newSession(), form)))
			.containsOnly(Map.entry("injections0.scar", "Choose scar as the target, or no scar."));
	}

	@Test
	void refusesAScarOfAnotherPatient() {
		var form = form();
		form.put("injections[0].scar", this.given.scar(this.given.patient("T-2"), "B1", Region.CHIN).toString());
		assertThat(RefusedForm.messages(post(newSession(), form)))
			.containsOnly(Map.entry("injections0.scar", "This scar is not one of this patient's."));
	}

	@Test
	void refusesADayThatFallsAsNumbersRise() {
		this.given.session(this.series, 1, "2026-10-01");
		this.given.session(this.series, 3, "2026-11-01");
		var form = form();
		form.put("number", "2");
		form.put("treatedOn", "2026-09-30");
		assertThat(RefusedForm.messages(post(newSession(), form))).containsOnly(
				Map.entry("treatedOn", "Session 1 was on 1 Oct 2026; a session with a higher number is not earlier."));
		form.put("treatedOn", "2026-11-02");
		assertThat(RefusedForm.messages(post(newSession(), form))).containsOnly(
				Map.entry("treatedOn", "Session 3 was on 1 Nov 2026; a session with a lower number is not later."));
		form.put("number", "3");
		form.put("treatedOn", "2026-11-01");
		assertThat(RefusedForm.messages(post(newSession(), form)))
			.containsOnly(Map.entry("number", "Session 3 of this patient is on record, of 1 Nov 2026."));
	}

	@Test
	void refusesASessionOfAnEndedSeriesAndSaysWhy() {
		this.given.end(this.series, "2026-11-01");
		assertThat(get(newSession())).hasStatusOk().bodyText().contains("This series has ended");
		assertThat(post(newSession(), form())).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("This series has ended, so it takes no new session.");
		assertThat(this.history.sessionsOf(this.patient)).isEmpty();
	}

	@Test
	void givesBackEverythingThatWasTyped() {
		var form = form();
		form.put("weightKg", "6l");
		form.put("injections[1].volumeMl", "4,2x");
		var answer = post(newSession(), form);
		var body = assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText();
		body.contains("value=\"6l\"", "value=\"4,2x\"", "value=\"biostimulator A\"", "value=\"2027-01-31\"",
				"value=\"0.4\"");
		body.containsPattern("<option value=\"" + this.scar + "\"\\s+selected=\"selected\"");
		body.containsPattern("<option value=\"deep_dermis\"\\s+selected=\"selected\"");
		body.containsPattern("name=\"injections\\[0].blanching\"[^>]*value=\"true\"[^>]*checked");
	}

	@Test
	void takesWhatWasLeftUnchosenForUnknown() {
		var form = form();
		form.put("injections[1].scar", "");
		form.put("injections[1].layer", "");
		form.put("injections[1].blanching", "");
		form.put("combination", "");
		assertThat(post(newSession(), form)).hasStatus3xxRedirection();
		assertThat(only().injections().get(1).scar()).isNull();
	}

	@Test
	void tellsEverythingThatIsToBeMendedAtOnce() {
		var form = form();
		form.put("weightKg", "6l");
		form.put("preparations[0].expiresOn", "soon");
		form.put("injections[0].region", "elbow");
		form.put("injections[1].volumeMl", "-1");
		form.remove("injections[1].target");
		assertThat(RefusedForm.messages(post(newSession(), form))).containsOnlyKeys("weightKg",
				"preparations0.expiresOn", "injections0.region", "injections1.volumeMl", "injections1.target");
	}

	@Test
	void doesNotCountRowsInWhichNothingIsTyped() {
		var form = form();
		form.put("preparations[1].number", "2");
		form.put("preparations[1].product", " ");
		form.put("injections[2].number", "3");
		form.put("injections[2].target", "pores");
		form.put("injections[2].preparation", "1");
		assertThat(post(newSession(), form)).hasStatus3xxRedirection();
		assertThat(only().preparations()).hasSize(1);
		assertThat(only().injections()).hasSize(2);
	}

	@Test
	void addsARowWithoutAScriptAndKeepsWhatWasTyped() {
		var form = form();
		form.put("change", "injection");
		var body = assertThat(post(newSession(), form)).hasStatusOk().bodyText();
		body.contains("<!DOCTYPE html>", "name=\"injections[2].region\"", "value=\"biostimulator A\"");
		// source, target, layer and needle are those of the row before, the place is not
		body.containsPattern("(?s)name=\"injections\\[2].layer\".*?value=\"mid_dermis\"\\s+selected");
		body.doesNotContainPattern("(?s)name=\"injections\\[2].region\"[^/]*?selected=\"selected\".{0,200}</select>");
		assertThat(this.history.sessionsOf(this.patient)).isEmpty();
	}

	@Test
	void addsARowInPlaceWithHtmx() {
		var form = form();
		form.put("change", "preparation");
		var request = this.pages.post().uri(newSession()).with(csrf()).header("HX-Request", "true");
		form.forEach(request::param);
		assertThat(request.exchange()).hasStatusOk()
			.bodyText()
			.contains("name=\"preparations[1].product\"", "id=\"parts\"")
			.doesNotContain("<!DOCTYPE html>");
	}

	@Test
	void takesARowOut() {
		var form = form();
		form.put("change", "-injection 1");
		assertThat(post(newSession(), form)).hasStatusOk()
			.bodyText()
			.contains("name=\"injections[0].region\"")
			.doesNotContain("name=\"injections[1].region\"");
	}

	@Test
	void tellsWhatItAddsUpToBeforeAnythingIsRecorded() {
		var form = form();
		form.put("preparations[0].discardedMl", "0.1");
		form.put("injections[1].volumeMl", "half");
		form.put("change", "check");
		var request = this.pages.post().uri(newSession()).with(csrf()).header("HX-Request", "true");
		form.forEach(request::param);
		assertThat(request.exchange()).hasStatusOk()
			.bodyText()
			.contains("id=\"checks\"", "Cannot be checked", "not recorded: volume or source of an injection")
			.doesNotContain("id=\"parts\"");
		assertThat(this.history.sessionsOf(this.patient)).isEmpty();
	}

	@ParameterizedTest
	@ValueSource(strings = { "injections[x].region", "injections[1000].region", "injections[999999999999].region",
			"injections[-1].region", "preparations[].product", "injections[0.region" })
	void refusesRowsThatNoPageOffers(String field) {
		var form = form();
		form.put(field, "chin");
		assertThat(post(newSession(), form)).hasStatus(HttpStatus.BAD_REQUEST);
	}

	@Test
	void correctsWithAReasonAndKeepsTheOldVersionReadable() {
		post(newSession(), form());
		var session = only();
		assertThat(get("/sessions/" + session.id() + "/edit")).hasStatusOk()
			.bodyText()
			.contains("value=\"biostimulator A\"", "value=\"4.2\"", "Why it is corrected");
		var form = form();
		form.put("version", "0");
		form.put("injections[1].volumeMl", "4.1");
		form.put("preparations[0].discardedMl", "0.5");
		assertThat(RefusedForm.messages(post("/sessions/" + session.id() + "/edit", form)))
			.containsOnly(Map.entry("reason", "Say why it is corrected."));
		form.put("reason", "misread the syringe");
		assertThat(post("/sessions/" + session.id() + "/edit", form)).hasRedirectedUrl("/sessions/" + session.id());
		assertThat(get("/sessions/" + session.id())).bodyText()
			.contains("1 correction", "misread the syringe", "Injection 2 · volume, mL", "4.2", "4.1");
		assertThat(post("/sessions/" + session.id() + "/edit", form)).hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void keepsWhatAnAssistantWroteAsADraft() {
		var form = form();
		form.put("weightKg", "6l");
		var answer = postAs(Role.ASSISTANT, newSession(), form);
		assertThat(this.history.sessionsOf(this.patient)).isEmpty();
		var draft = this.drafts.openOf(this.series).get(0);
		assertThat(answer).hasRedirectedUrl("/drafts/" + draft.id());
		assertThat(get("/drafts")).bodyText().contains("T-1", "1 of series 1", "assistant", "20 Nov 2026, 09:00");
		assertThat(get("/drafts/" + draft.id())).bodyText()
			.contains("value=\"6l\"", "value=\"biostimulator A\"", "Written by assistant", "Record the session",
					"Discard the draft");
		assertThat(getAs(Role.ASSISTANT, "/drafts/" + draft.id())).bodyText()
			.contains("kept as a draft until a practitioner records it")
			.doesNotContain("Discard the draft", "Record the session");
	}

	@Test
	void turnsADraftIntoASessionOnce() {
		postAs(Role.ASSISTANT, newSession(), form());
		var draft = this.drafts.openOf(this.series).get(0).id();
		var form = form();
		form.put("version", "0");
		form.put("weightKg", "6l");
		assertThat(RefusedForm.messages(post("/drafts/" + draft, form))).containsOnlyKeys("weightKg");
		form.put("weightKg", "61");
		assertThat(post("/drafts/" + draft, form)).hasRedirectedUrl("/sessions/" + only().id());
		assertThat(get("/drafts")).bodyText().contains("No draft waits");
		assertThat(get("/drafts/" + draft)).hasStatus(HttpStatus.CONFLICT).bodyText().contains("This draft is settled");
		form.put("version", "1");
		form.put("number", "2");
		assertThat(post("/drafts/" + draft, form)).hasStatus(HttpStatus.CONFLICT);
		assertThat(this.history.sessionsOf(this.patient)).hasSize(1);
	}

	@Test
	void letsAnAssistantGoOnWritingADraft() {
		postAs(Role.ASSISTANT, newSession(), form());
		var draft = this.drafts.openOf(this.series).get(0).id();
		var form = form();
		form.put("version", "0");
		form.put("weightKg", "64.5");
		assertThat(postAs(Role.ASSISTANT, "/drafts/" + draft, form)).hasRedirectedUrl("/drafts/" + draft);
		assertThat(get("/drafts/" + draft)).bodyText().contains("value=\"64.5\"");
		assertThat(postAs(Role.ASSISTANT, "/drafts/" + draft, form)).hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void discardsADraft() {
		postAs(Role.ASSISTANT, newSession(), form());
		var draft = this.drafts.openOf(this.series).get(0).id();
		assertThat(postAs(Role.ASSISTANT, "/drafts/" + draft + "/discard", Map.of("version", "0")))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(post("/drafts/" + draft + "/discard", Map.of("version", "0"))).hasRedirectedUrl("/drafts");
		assertThat(this.drafts.open()).isEmpty();
	}

	private String newSession() {
		return "/series/" + this.series + "/sessions/new";
	}

	private RecordedSession only() {
		assertThat(this.history.sessionsOf(this.patient)).hasSize(1);
		return this.history.sessionsOf(this.patient).get(0);
	}

	/** 5 mL prepared with 20 mg of lidocaine, 4.6 injected, 0.4 discarded. */
	private Map<String, String> form() {
		var form = new LinkedHashMap<String, String>();
		form.put("number", "1");
		form.put("treatedOn", "2026-11-20");
		form.put("practitioner", practitioner());
		form.put("weightKg", "60");
		form.put("preparations[0].number", "1");
		form.put("preparations[0].product", "biostimulator A");
		form.put("preparations[0].lot", "L1");
		form.put("preparations[0].expiresOn", "2027-01-31");
		form.put("preparations[0].vialMg", "150");
		form.put("preparations[0].diluentMl", "5");
		form.put("preparations[0].stockDrawnMl", "4");
		form.put("preparations[0].addedDiluentMl", "0");
		form.put("preparations[0].lidocainePercent", "2");
		form.put("preparations[0].lidocaineMl", "1");
		form.put("preparations[0].discardedMl", "0.4");
		form.put("injections[0].number", "1");
		form.put("injections[0].preparation", "1");
		form.put("injections[0].region", "cheek_medial_left");
		form.put("injections[0].target", "scar");
		form.put("injections[0].scar", this.scar.toString());
		form.put("injections[0].layer", "deep_dermis");
		form.put("injections[0].points", "2");
		form.put("injections[0].volumeMl", "0.4");
		form.put("injections[0].blanching", "true");
		form.put("injections[0].bleeding", "false");
		form.put("injections[1].number", "2");
		form.put("injections[1].preparation", "1");
		form.put("injections[1].region", "forehead");
		form.put("injections[1].target", "pores");
		form.put("injections[1].layer", "mid_dermis");
		form.put("injections[1].points", "60");
		form.put("injections[1].volumeMl", "4.2");
		form.put("injections[1].needleGauge", "30");
		form.put("injections[1].needleMm", "4");
		return form;
	}

	private String practitioner() {
		this.staff.member(Role.PRACTITIONER);
		return this.database.sql("select id from staff where name = 'practitioner'").query(String.class).single();
	}

	private MvcTestResult get(String address) {
		return this.pages.get().uri(address).exchange();
	}

	private MvcTestResult getAs(Role role, String address) {
		return this.pages.get().uri(address).with(this.staff.as(role)).exchange();
	}

	private MvcTestResult post(String address, Map<String, String> form) {
		var request = this.pages.post().uri(address).with(csrf());
		form.forEach(request::param);
		return request.exchange();
	}

	private MvcTestResult postAs(Role role, String address, Map<String, String> form) {
		var request = this.pages.post().uri(address).with(csrf()).with(this.staff.as(role));
		form.forEach(request::param);
		return request.exchange();
	}

}
