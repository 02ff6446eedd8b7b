package org.seriatim.proof;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.LocalTime;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;
import java.util.function.UnaryOperator;

import org.jsoup.Jsoup;
import org.seriatim.photograph.TestPictures;
import org.seriatim.proof.Clinic.Patient;
import org.seriatim.proof.Ledger.Kind;
import org.seriatim.proof.Person.Answer;
import org.seriatim.proof.WritingLoad.Work;

/**
 * What the people of a clinic write, each with a sign-in of its own and about patients of
 * its own, so that nothing but a fault can keep one from being on record.
 */
final class Writers {

	private static final Duration NOTHING_LEFT = Duration.ofSeconds(1);

	/** A patient gets one only, so that a second mail is seen at once. */
	private static final Duration BETWEEN_LINKS = Duration.ofSeconds(1);

	private final Clinic clinic;

	private final Ledger ledger;

	private final Path folder;

	Writers(Clinic clinic, Ledger ledger, Path folder) {
		this.clinic = clinic;
		this.ledger = ledger;
		this.folder = folder;
	}

	/**
	 * @param practitioner of the sessions and of the diary, of nobody else here
	 * @param addressOf the service that these people have before them
	 * @param seed of all that is left to chance
	 * @param patients how many there are for links, and a tenth of it for the rest
	 */
	List<Work> at(String practitioner, UnaryOperator<String> addressOf, long seed, int patients) throws IOException {
		var chair = signedIn(practitioner, addressOf);
		var desk = signedIn("desk", addressOf);
		var lead = new Person("lead." + practitioner, addressOf);
		lead.signInWithCode();
		return List.of(new Chair(chair, practitioner, new Random(seed), this.clinic.give(patients / 10)),
				new Calls(signedIn("desk", addressOf), practitioner, this.clinic.give(patients / 10)),
				new Diary(desk, practitioner, this.clinic.give(patients / 10)),
				new Camera(signedIn("assistant", addressOf), seed, this.clinic.give(patients / 10)),
				new Links(signedIn("desk", addressOf), this.clinic.give(patients)),
				new Imports(lead, "I" + seed, practitioner));
	}

	private static Person signedIn(String name, UnaryOperator<String> addressOf) throws IOException {
		var person = new Person(name, addressOf);
		person.signIn();
		return person;
	}

	/** Notes what an answer says of a write. */
	private boolean settle(Kind kind, String mark, Answer answer, boolean done) throws IOException {
		if (answer.isFault()) {
			throw new IOException("answered with " + answer.status());
		}
		if (done) {
			this.ledger.acknowledged(kind, mark);
		}
		else {
			this.ledger.refused(kind, mark, answer.status() + " " + answer.location() + " "
					+ Jsoup.parse(answer.body()).select(".error-summary, .field__error, h1, body > span").text());
		}
		return done;
	}

	/** A sheet that saves itself twice while it is typed, and is recorded. */
	private final class Chair implements Work {

		private final Person person;

		private final String practitioner;

		private final Random random;

		private final List<Patient> patients;

		private String page = "";

		private String address = "";

		private Map<String, String> form = Map.of();

		private int saved;

		private int sheets;

		private Chair(Person person, String practitioner, Random random, List<Patient> patients) {
			this.person = person;
			this.practitioner = practitioner;
			this.random = random;
			this.patients = patients;
		}

		@Override
		public Duration once() throws IOException {
			if (this.page.isEmpty()) {
				begin();
			}
			while (this.saved < 2) {
				save();
			}
			record();
			return Duration.ZERO;
		}

		private void begin() throws IOException {
			var series = this.patients.get(this.random.nextInt(this.patients.size())).series();
			var sheet = this.person.get("/series/" + series + "/sessions/new?paper=yes");
			var number = Jsoup.parse(sheet.body()).select("[name=number]").attr("value");
			if (number.isEmpty()) {
				throw new IOException("There is no sheet: " + sheet.status());
			}
			this.address = "/series/" + series + "/sessions/new";
			this.form = sheet(number);
			this.saved = 0;
			this.sheets++;
			// by the generator, so that a seed says the same again
			this.page = new UUID(this.random.nextLong(), this.random.nextLong()).toString();
		}

		private Map<String, String> sheet(String number) {
			var form = new HashMap<String, String>();
			form.put("number", number);
			form.put("treatedOn", Writers.this.clinic.today().minusDays(1).toString());
			form.put("practitioner", Writers.this.clinic.staffId(this.practitioner));
			form.put("vesselsSeen", "true");
			Map.of("number", "1", "product", "biostimulator A", "vialMg", "200", "diluentMl", "5", "stockDrawnMl", "1",
					"addedDiluentMl", "0", "lidocaineMl", "0", "discardedMl", "0.4")
				.forEach((name, value) -> form.put("preparations[0]." + name, value));
			for (int row = 0; row < 2; row++) {
				for (var field : Map
					.of("number", "" + (row + 1), "preparation", "1", "region",
							(row == 0) ? "chin" : "cheek_lateral_left", "target", "pores", "layer", "mid_dermis",
							"points", (row == 0) ? "10" : "20", "pointMl", "0.02")
					.entrySet()) {
					form.put("injections[" + row + "]." + field.getKey(), field.getValue());
				}
			}
			return form;
		}

		private void save() throws IOException {
			var mark = this.page + " " + (this.saved + 1);
			var typed = new HashMap<>(this.form);
			typed.put("instructions", mark);
			typed.put("page", this.page);
			typed.put("save", "true");
			Writers.this.ledger.sends(Kind.DRAFT, mark);
			var answer = this.person.post(this.address, typed);
			var told = Jsoup.parse(answer.body()).selectFirst("#saved");
			if (settle(Kind.DRAFT, mark, answer, answer.status() == 200 && told != null)) {
				this.address = told.attr("data-action");
				this.form.put("version", told.attr("data-version"));
				this.saved++;
			}
			else {
				throw given();
			}
		}

		private void record() throws IOException {
			var mark = this.page + " 2";
			var typed = new HashMap<>(this.form);
			typed.put("instructions", mark);
			typed.put("page", this.page);
			this.page = "";
			Writers.this.ledger.sends(Kind.SESSION, mark);
			var answer = this.person.post(this.address, typed);
			settle(Kind.SESSION, mark, answer, answer.leadsTo("/sessions/"));
		}

		private IOException given() {
			this.page = "";
			return new IOException("The sheet was refused");
		}

	}

	/** Contacts after the session, one on each day. */
	private final class Calls implements Work {

		private final Person person;

		private final String prefix;

		private final List<Patient> patients;

		private int next;

		private Calls(Person person, String prefix, List<Patient> patients) {
			this.person = person;
			this.prefix = prefix;
			this.patients = patients;
		}

		@Override
		public Duration once() throws IOException {
			var call = this.next++;
			var patient = this.patients.get(call % this.patients.size());
			var round = call / this.patients.size();
			var day = round / 2 % Clinic.TREATED_DAYS_AGO;
			if (round >= 2 * Clinic.TREATED_DAYS_AGO) {
				return NOTHING_LEFT;
			}
			var mark = "call " + this.prefix + " " + call;
			Writers.this.ledger.sends(Kind.CONTACT, mark);
			var answer = this.person.post("/sessions/" + patient.session() + "/contacts/new",
					Map.of("contactedOn", Writers.this.clinic.today().minusDays(day).toString(), "channel",
							(round % 2 == 0) ? "phone" : "visit", "outcome", "reached", "lumpsPresent", "false",
							"painNrs", "2", "note", mark));
			settle(Kind.CONTACT, mark, answer, answer.leadsTo("/patients/"));
			return Duration.ZERO;
		}

	}

	/** Reviews of five minutes, one after the other. */
	private final class Diary implements Work {

		private static final int FIRST_HOUR = 7;

		private static final int ON_A_DAY = 120;

		private static final int MINUTES = 5;

		private final Person person;

		private final String practitioner;

		private final List<Patient> patients;

		private int next;

		private Diary(Person person, String practitioner, List<Patient> patients) {
			this.person = person;
			this.practitioner = practitioner;
			this.patients = patients;
		}

		@Override
		public Duration once() throws IOException {
			var booking = this.next++;
			var day = Writers.this.clinic.today().plusDays(1 + booking / ON_A_DAY);
			var time = LocalTime.of(FIRST_HOUR, 0).plusMinutes((long) (booking % ON_A_DAY) * MINUTES);
			var patient = this.patients.get(booking % this.patients.size());
			var mark = this.practitioner + " " + day + " " + time;
			Writers.this.ledger.sends(Kind.BOOKING, mark);
			var answer = this.person.post("/patients/" + patient.id() + "/appointments/new",
					Map.of("visitFor", "review", "practitioner", Writers.this.clinic.staffId(this.practitioner),
							"visitDay", day.toString(), "visitTime", time.toString(), "visitMinutes", "" + MINUTES));
			settle(Kind.BOOKING, mark, answer, answer.leadsTo("/appointments/"));
			return Duration.ZERO;
		}

	}

	/** Photographs, sent again as the page does when no answer came. */
	private final class Camera implements Work {

		private static final int SIZE = 240;

		private final Person person;

		private final Random random;

		private final List<Patient> patients;

		private byte[] picture = {};

		private String mark = "";

		private int taken;

		private Camera(Person person, long seed, List<Patient> patients) throws IOException {
			this.person = person;
			this.random = new Random(seed);
			this.patients = patients;
			for (var patient : patients) {
				this.person.post("/patients/" + patient.id() + "/photographs/consent",
						Map.of("purpose", "care", "givenOn", Writers.this.clinic.today().toString()));
			}
		}

		@Override
		public Duration once() throws IOException {
			if (this.mark.isEmpty()) {
				this.picture = another();
				this.mark = sha256(this.picture);
				this.taken++;
			}
			var patient = this.patients.get(this.taken % this.patients.size());
			Writers.this.ledger.sends(Kind.PHOTOGRAPH, this.mark);
			var answer = this.person.upload("/patients/" + patient.id() + "/photographs",
					Map.of("view", "front", "lightSet", "flat"), "file", "picture.jpg", this.picture);
			// the disk may be full: the page says so, and the file is sent again
			if (answer.status() == 422 && answer.body().contains("room")) {
				throw new IOException("no room");
			}
			settle(Kind.PHOTOGRAPH, this.mark, answer, answer.status() == 200);
			this.mark = "";
			return Duration.ZERO;
		}

		private byte[] another() {
			var image = new BufferedImage(SIZE, SIZE, BufferedImage.TYPE_INT_RGB);
			var pen = image.createGraphics();
			for (int spot = 0; spot < 40; spot++) {
				pen.setColor(new Color(this.random.nextInt(1 << 24)));
				pen.fillRect(this.random.nextInt(SIZE), this.random.nextInt(SIZE), 40, 40);
			}
			pen.dispose();
			return TestPictures.encoded("jpeg", image);
		}

	}

	static String sha256(byte[] bytes) {
		try {
			return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException(ex);
		}
	}

	/** A link with its mail to one patient after the other. */
	private final class Links implements Work {

		private final Person person;

		private final List<Patient> patients;

		private int next;

		private Links(Person person, List<Patient> patients) {
			this.person = person;
			this.patients = patients;
		}

		@Override
		public Duration once() throws IOException {
			if (this.next == this.patients.size()) {
				return NOTHING_LEFT;
			}
			var patient = this.patients.get(this.next++).id();
			Writers.this.ledger.sends(Kind.LINK, patient);
			var answer = this.person.post("/patients/" + patient + "/contact-link", Map.of());
			settle(Kind.LINK, patient, answer, answer.leadsTo("/patients/"));
			return BETWEEN_LINKS;
		}

	}

	/** Bundles of a few patients, each with all that belongs to them. */
	private final class Imports implements Work {

		static final int PATIENTS = 3;

		private final Person person;

		private final String prefix;

		private final String practitioner;

		private int next;

		private Imports(Person person, String prefix, String practitioner) {
			this.person = person;
			this.prefix = prefix;
			this.practitioner = practitioner;
		}

		@Override
		public Duration once() throws IOException {
			var mark = this.prefix + "-" + this.next++;
			var bundle = Clinic.zipped(Writers.this.clinic.bundle(mark, PATIENTS, this.practitioner),
					Writers.this.folder);
			Writers.this.ledger.sends(Kind.IMPORT, mark);
			var told = Office.take(this.person, bundle);
			if (told.contains("is on record")) {
				Writers.this.ledger.acknowledged(Kind.IMPORT, mark);
			}
			else if (told.contains("broke off")) {
				throw new IOException(told);
			}
			else {
				Writers.this.ledger.refused(Kind.IMPORT, mark, told);
			}
			return Duration.ZERO;
		}

	}

}
