package org.seriatim.photograph.web;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.TestPictures;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** Photographs of a patient on 20 November 2026. */
@PageTest
@SignedInAs(Role.PRACTITIONER)
class PhotographPageTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	TestStaff staff;

	private TestTreatment treatment;

	private PatientId patient;

	private ScarId scar;

	@BeforeEach
	void knowSomebody() {
		this.treatment = new TestTreatment(this.database);
		this.patient = this.treatment.patient("K1");
		this.scar = this.treatment.scar(this.patient, "CHT7", Region.CHEEK_MEDIAL_LEFT);
	}

	@Test
	void takesNoneWithoutConsent() {
		assertThat(get(photographs())).hasStatusOk().bodyText().contains("No consent to photographs is on record");
		assertThat(add(TestPictures.jpeg(400, 300), "view", "front", "lightSet", "flat"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("The patient has not allowed this use: Treatment and its record");
		assertThat(count("photograph")).isZero();
	}

	@Test
	void takesSeveralAtOnceAndShowsThemByTheirDays() {
		allow("care");
		var answer = send(photographs() + "/new",
				List.of(file("files", TestPictures.jpegWithNote(400, 300, 1, "2026:11:02 09:30:00")),
						file("files", TestPictures.png(300, 400))),
				"view", "oblique_left", "lightSet", "raking", "distanceCm", "120");
		assertThat(answer).hasRedirectedUrl(photographs()).flash().containsEntry("notice", "photograph.added");
		assertThat(get(photographs())).hasStatusOk()
			.bodyText()
			.contains("2 Nov 2026", "20 Nov 2026", "Left oblique", "Raking light")
			.containsSubsequence("20 Nov 2026", "2 Nov 2026");
		assertThat(get("/photographs/" + ids().get(0))).hasStatusOk()
			.bodyText()
			.contains("2 Nov 2026, 09:30", TestPictures.CAMERA, "120 cm", "400 × 300 pixels");
	}

	@Test
	void keepsThePictureOutsideOfAllAddressesAndLogsEachLook() throws IOException {
		var id = added();
		var looks = audited("opened", "photograph");
		var answer = get("/photographs/" + id + "/picture");
		assertThat(answer).hasStatusOk().hasContentType("image/jpeg").headers().hasValue("Cache-Control", "no-store");
		assertThat(TestPictures.decoded(answer.getResponse().getContentAsByteArray()).getWidth()).isEqualTo(400);
		assertThat(get("/photographs/" + id + "/small")).hasStatusOk();
		assertThat(audited("opened", "photograph")).isEqualTo(looks + 2);
		var file = pictureOf(id);
		assertThat(file).isRegularFile();
		assertThat(Files.getPosixFilePermissions(file)).hasSize(2);
		for (var role : List.of(Role.FRONT_DESK, Role.ADMINISTRATOR)) {
			for (var address : List.of(photographs(), "/photographs/" + id, "/photographs/" + id + "/picture",
					"/photographs/" + id + "/small")) {
				assertThat(this.browser.get().uri(address).with(this.staff.as(role))).hasStatus(HttpStatus.FORBIDDEN);
			}
		}
	}

	@Test
	void aLostFileIsNoFaultOfThePage() throws IOException {
		var id = added();
		Files.delete(pictureOf(id));
		assertThat(get("/photographs/" + id)).hasStatusOk();
		assertThat(get("/photographs/" + id + "/picture")).hasStatus(HttpStatus.NOT_FOUND);
	}

	@Test
	void aFileThatIsSentAgainStaysOnePhotograph() {
		allow("care");
		var picture = TestPictures.jpeg(400, 300);
		assertThat(addOne(picture)).hasStatusOk().bodyText().contains("Front", "added");
		assertThat(addOne(picture)).hasStatusOk().bodyText().contains("Front", "added");
		assertThat(count("photograph")).isOne();
	}

	@Test
	void fortyAtOnceAreAllThere() throws Exception {
		allow("care");
		var tasks = new ArrayList<Callable<Integer>>();
		for (int file = 0; file < 40; file++) {
			// every second one is sent twice, as after a lost connection
			var picture = TestPictures.jpeg(400 + file / 2 * 2, 300);
			tasks.add(() -> addOne(picture, this.staff.as(Role.PRACTITIONER)).getResponse().getStatus());
		}
		var senders = Executors.newFixedThreadPool(8);
		try {
			for (var answer : senders.invokeAll(tasks)) {
				assertThat(answer.get()).isEqualTo(200);
			}
		}
		finally {
			senders.shutdown();
		}
		assertThat(count("photograph")).isEqualTo(20);
		for (var id : ids()) {
			assertThat(get("/photographs/" + id + "/picture")).hasStatusOk();
		}
	}

	@Test
	void keepsTheGoodOnesOfABatchAndNamesTheOthers() {
		allow("care");
		var answer = send(photographs() + "/new",
				List.of(new MockMultipartFile("files", "one.jpg", "image/jpeg", TestPictures.jpeg(400, 300)),
						new MockMultipartFile("files", "<letter>.jpg", "image/jpeg", "Dear Sir".getBytes())),
				"view", "front", "lightSet", "flat");
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("1 picture was added", "&lt;letter&gt;.jpg",
					"This is no JPEG or PNG picture, whatever its name says.");
		assertThat(count("photograph")).isOne();
	}

	@Test
	void saysOfOneFileWhyItIsNotKept() {
		allow("care");
		assertThat(addOne(TestPictures.pngThatSays(30_000, 30_000))).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("more than 50 megapixels")
			.doesNotContain("<html");
		assertThat(send(photographs(), List.of(file("file", TestPictures.jpeg(400, 300))), "lightSet", "flat"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Choose the view.");
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "view||view|Choose the view.", "view|profile|view|Choose one of the values offered.",
					"lightSet||lightSet|Choose the light.", "lightSet|sun|lightSet|Choose one of the values offered.",
					"takenOn|2026-11-21|takenOn|Enter today, 20 Nov 2026, or an earlier day.",
					"takenOn|yesterday|takenOn|Enter a date as year-month-day, for example 2026-03-21.",
					"view|close|region|Say which region or scar the close view shows.",
					"region|elbow|region|Choose one of the values offered.",
					"scar|01980000-0000-7000-8000-000000000000|scar|Choose a scar of this patient.",
					"yawDegrees|20|yawDegrees|A standard view has its own turn; leave this empty.",
					"yawDegrees|91|yawDegrees|Enter −90 to 90 degrees.",
					"yawDegrees|left|yawDegrees|Enter a whole number.", "distanceCm|0|distanceCm|Enter 1 to 500 cm.",
					"distanceCm|501|distanceCm|Enter 1 to 500 cm.",
					"qualityOk|false|qualityNote|Say what is wrong with it." })
	void saysAtItsFieldWhatToMend(String changed, String value, String field, String message) {
		allow("care");
		var fields = new LinkedHashMap<String, String>(Map.of("view", "front", "lightSet", "flat", "camera", "kept"));
		fields.put(changed, (value != null) ? value : "");
		var answer = add(TestPictures.jpeg(400, 300),
				fields.entrySet()
					.stream()
					.flatMap((entry) -> java.util.stream.Stream.of(entry.getKey(), entry.getValue()))
					.toArray(String[]::new));
		assertThat(answer).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains("kept");
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
		assertThat(count("photograph")).isZero();
	}

	@Test
	void aCloseUpOfAScarLiesInItsRegion() {
		allow("care");
		assertThat(add(TestPictures.jpeg(400, 300), "view", "close", "lightSet", "raking", "scar", this.scar.toString(),
				"region", "nose"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Scar CHT7 lies in another region: Left medial cheek.");
		add(TestPictures.jpeg(400, 300), "view", "close", "lightSet", "raking", "scar", this.scar.toString());
		assertThat(get("/photographs/" + ids().get(0))).bodyText().contains("Close view: CHT7", "Left medial cheek");
		assertThat(get(photographs() + "?scar=" + this.scar)).bodyText().contains("Close view: CHT7");
		assertThat(get(photographs() + "?view=front")).bodyText().doesNotContain("Close view: CHT7");
	}

	@Test
	void isCorrectedByANewVersionWithAReason() {
		var id = added();
		assertThat(post("/photographs/" + id + "/edit", "view", "lateral_left", "lightSet", "flat", "takenOn",
				"2026-11-20", "version", "0"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Say why.");
		assertThat(post("/photographs/" + id + "/edit", "view", "lateral_left", "lightSet", "flat", "takenOn",
				"2026-11-20", "version", "0", "reason", "other side"))
			.hasRedirectedUrl("/photographs/" + id);
		assertThat(get("/photographs/" + id)).bodyText().contains("Left lateral", "Earlier versions");
		assertThat(get("/history/photograph/" + id)).hasStatusOk().bodyText().contains("other side");
		assertThat(post("/photographs/" + id + "/edit", "view", "front", "lightSet", "flat", "takenOn", "2026-11-20",
				"version", "0", "reason", "too late"))
			.hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void isSetAsideOutOfSightAndBroughtBack() {
		var id = added();
		assertThat(post("/photographs/" + id + "/set-aside", "version", "0", "aside", "true", "reason", "another face"))
			.hasRedirectedUrl("/photographs/" + id);
		assertThat(get(photographs())).bodyText().contains("Set aside").doesNotContain(id + "/small");
		assertThat(this.browser.get().uri("/photographs/" + id + "/picture").with(this.staff.as(Role.ASSISTANT)))
			.hasStatus(HttpStatus.NOT_FOUND);
		assertThat(post("/photographs/" + id + "/set-aside", "version", "1", "aside", "false", "reason", "it was hers"))
			.hasRedirectedUrl("/photographs/" + id);
		assertThat(get(photographs())).bodyText().contains(id + "/small");
	}

	@Test
	void aWithdrawnConsentHidesEverythingAtOnce() {
		var id = added();
		assertThat(get("/photographs/" + id + "/picture")).hasStatusOk();
		withdraw("care");
		assertThat(get("/photographs/" + id + "/picture")).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(get("/photographs/" + id + "/small")).hasStatus(HttpStatus.FORBIDDEN);
		assertThat(get(photographs())).bodyText().doesNotContain("/small", "/picture");
		assertThat(get("/photographs/" + id)).bodyText().doesNotContain("/picture");
		assertThat(get(photographs() + "/compare")).hasStatusOk().bodyText().doesNotContain("/picture");
		assertThat(add(TestPictures.jpeg(500, 300), "view", "front", "lightSet", "flat"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@Test
	void aCopyLeavesForAnAllowedPurposeOnly() {
		var id = added();
		assertThat(get("/photographs/" + id)).bodyText()
			.contains("Teaching: the patient has not allowed it.")
			.doesNotContain("Copy for teaching");
		assertThat(post("/photographs/" + id + "/copy", "purpose", "teaching")).hasStatus(HttpStatus.FORBIDDEN);
		allow("teaching");
		assertThat(get("/photographs/" + id)).bodyText().contains("Copy for teaching");
		assertThat(post("/photographs/" + id + "/copy", "purpose", "teaching")).hasStatusOk()
			.headers()
			.hasValue("Content-Disposition", "attachment; filename=\"photograph-teaching.jpg\"");
		assertThat(audited("exported", "photograph")).isOne();
		withdraw("teaching");
		assertThat(post("/photographs/" + id + "/copy", "purpose", "teaching")).hasStatus(HttpStatus.FORBIDDEN);
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|',
			value = { "purpose||purpose|Choose what is allowed.", "purpose|care|purpose|This use is allowed already.",
					"givenOn||givenOn|Enter the day on which it was given.",
					"givenOn|2026-11-21|givenOn|Enter today, 20 Nov 2026, or an earlier day." })
	void saysWhatToMendInAConsent(String changed, String value, String field, String message) {
		allow("care");
		var fields = new LinkedHashMap<String, String>(Map.of("purpose", "teaching", "givenOn", "2026-11-20"));
		fields.put(changed, (value != null) ? value : "");
		var answer = post(photographs() + "/consent",
				fields.entrySet()
					.stream()
					.flatMap((entry) -> java.util.stream.Stream.of(entry.getKey(), entry.getValue()))
					.toArray(String[]::new));
		assertThat(RefusedForm.messages(answer)).containsEntry(field, message);
	}

	@Test
	void comparesTheFirstWithTheLastOfAView() {
		allow("care");
		addOn("2026-10-12", 400, "flat");
		addOn("2026-11-20", 420, "flat");
		assertThat(get(photographs() + "/compare")).hasStatusOk()
			.bodyText()
			.contains("View, light and camera are the same.", "Not aligned", "/picture")
			.containsSubsequence("12 Oct 2026", "20 Nov 2026");
	}

	@Test
	void warnsOfTwoThatCannotBeCompared() {
		allow("care");
		var flat = addOn("2026-10-12", 400, "flat");
		var raking = addOn("2026-11-20", 420, "raking");
		assertThat(get(photographs() + "/compare")).bodyText().contains("No two photographs can be compared yet");
		assertThat(get("%s/compare?earlier=%s&later=%s".formatted(photographs(), flat, raking))).bodyText()
			.contains("No conclusion may be drawn from these two", "The light differs");
		var other = this.treatment.patient("K2");
		assertThat(get("/patients/%s/photographs/compare?earlier=%s&later=%s".formatted(other, flat, raking)))
			.hasStatus(HttpStatus.NOT_FOUND);
	}

	@Test
	void laysTheLaterUponTheEarlierByTwoPoints() {
		allow("care");
		var earlier = addOn("2026-10-12", 400, "flat");
		var later = addOn("2026-11-20", 800, "flat");
		var refused = post(photographs() + "/landmarks", "earlier", earlier, "later", later, "firstX", "0.25", "firstY",
				"0.5", "secondX", "0.75", "secondY", "0.5", "laterFirstX", "0.25", "laterFirstY", "0.5", "laterSecondX",
				"1.5", "laterSecondY", "");
		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
		assertThat(RefusedForm.messages(refused)).containsEntry("laterSecondX", "Enter a share from 0 to 1.")
			.containsEntry("laterSecondY", "Set this point.");
		// 200 pixels apart in the one, 400 in the other: half as large; (200, 240) comes
		// to lie on (100, 150)
		var kept = post(photographs() + "/landmarks", "earlier", earlier, "later", later, "firstX", "0.25", "firstY",
				"0.5", "secondX", "0.75", "secondY", "0.5", "laterFirstX", "0.25", "laterFirstY", "0.4", "laterSecondX",
				"0.75", "laterSecondY", "0.4");
		assertThat(kept).hasStatus(HttpStatus.FOUND);
		assertThat(get(photographs() + "/compare?as=upon")).bodyText()
			.contains("matrix(0.500000 0.000000 0.000000 0.500000 0.000 30.000)");
		assertThat(post(photographs() + "/landmarks", "earlier", earlier, "later", later, "firstX", "0.25", "firstY",
				"0.5", "secondX", "0.25", "secondY", "0.5", "laterFirstX", "0.25", "laterFirstY", "0.5", "laterSecondX",
				"0.75", "laterSecondY", "0.5"))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("too near");
	}

	@Test
	void anErasureTakesTheFilesWithIt() {
		var id = added();
		var file = pictureOf(id);
		assertThat(file).exists();
		var answer = this.browser.post()
			.uri("/patients/" + this.patient + "/erase")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))
			.param("why", "patient_request")
			.param("typedNumber", "K1")
			.exchange();
		assertThat(answer).hasStatus(HttpStatus.FOUND);
		assertThat(count("photograph")).isZero();
		assertThat(count("photograph_consent")).isZero();
		assertThat(count("photograph_file_to_remove")).isZero();
		assertThat(file).doesNotExist();
	}

	@Test
	void whatIsOnRecordIsNotListedToBeRemoved() {
		added();
		assertThat(count("photograph")).isEqualTo(1);
		assertThat(count("photograph_file_to_remove")).isZero();
	}

	private static Path pictureOf(String id) {
		return Path.of("target/test-data", String.valueOf(ProcessHandle.current().pid()), "photographs",
				id.substring(id.length() - 2), id + ".jpg");
	}

	private String photographs() {
		return "/patients/" + this.patient + "/photographs";
	}

	private void allow(String purpose) {
		assertThat(post(photographs() + "/consent", "purpose", purpose, "givenOn", "2026-10-01"))
			.hasRedirectedUrl(photographs() + "/consent");
	}

	private void withdraw(String purpose) {
		var consent = this.database
			.sql("select id from photograph_consent where purpose = :purpose and withdrawn_on is null")
			.param("purpose", purpose)
			.query(UUID.class)
			.single();
		assertThat(
				post("/photograph-consents/" + consent + "/withdraw", "withdrawnOn", "2026-11-20", "reason", "said so"))
			.hasStatus(HttpStatus.FOUND);
	}

	private String added() {
		allow("care");
		add(TestPictures.jpeg(400, 300), "view", "front", "lightSet", "flat");
		return ids().get(0);
	}

	private String addOn(String day, int width, String light) {
		var before = ids();
		add(TestPictures.jpeg(width, width * 3 / 4), "view", "front", "lightSet", light, "takenOn", day, "camera", "A");
		return ids().stream().filter((id) -> !before.contains(id)).findFirst().orElseThrow();
	}

	private List<String> ids() {
		return this.database.sql("select id::text from photograph order by recorded_at, id").query(String.class).list();
	}

	private long count(String table) {
		return this.database.sql("select count(*) from " + table).query(Long.class).single();
	}

	private long audited(String action, String kind) {
		return this.database.sql("select count(*) from audit_entry where action = :action and kind = :kind")
			.param("action", action)
			.param("kind", kind)
			.query(Long.class)
			.single();
	}

	private static MockMultipartFile file(String field, byte[] content) {
		return new MockMultipartFile(field, "IMG_0001.jpg", "image/jpeg", content);
	}

	private MvcTestResult add(byte[] picture, String... fields) {
		return send(photographs() + "/new", List.of(file("files", picture)), fields);
	}

	private MvcTestResult addOne(byte[] picture) {
		return send(photographs(), List.of(file("file", picture)), "view", "front", "lightSet", "flat");
	}

	private MvcTestResult addOne(byte[] picture,
			org.springframework.test.web.servlet.request.RequestPostProcessor somebody) {
		return this.browser.post()
			.uri(photographs())
			.multipart()
			.file(file("file", picture))
			.with(csrf())
			.with(somebody)
			.param("view", "front")
			.param("lightSet", "flat")
			.exchange();
	}

	private MvcTestResult send(String address, List<MockMultipartFile> files, String... fields) {
		var request = this.browser.post().uri(address).multipart().with(csrf());
		files.forEach(request::file);
		for (int at = 0; at < fields.length; at += 2) {
			request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

	private MvcTestResult post(String address, String... fields) {
		var request = this.browser.post().uri(address).with(csrf());
		for (int at = 0; at < fields.length; at += 2) {
			request.param(fields[at], fields[at + 1]);
		}
		return request.exchange();
	}

	private MvcTestResult get(String address) {
		return this.browser.get().uri(address).exchange();
	}

}
