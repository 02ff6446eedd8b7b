package org.seriatim.proof;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.photograph.TestPictures;
import org.seriatim.proof.Clinic.Patient;
import org.seriatim.proof.LoadRecord.Asked;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A day of a large clinic group, run when it is asked for by its name:
 * {@code mvn -B test -Dtest=LoadRun -Dload.minutes=60}. Forty-six people are at it at
 * once, each with a pause of some seconds between two pages, on an invented clinic of
 * {@code load.patients} patients (2000) beside those that are written about.
 */
class LoadRun {

	private static final int MINUTES = Integer.getInteger("load.minutes", 2);

	private static final int GENERATED = Integer.getInteger("load.patients", 2_000);

	private static final long SEED = Long.getLong("load.seed", 20_261_201L);

	private static final int DESKS = 12;

	private static final int CHAIRS = 20;

	private static final int PATIENTS_WITH_LINKS = 10;

	/** In an hour; a link takes thirty answers a day. */
	private static final int LINKS_OF_ONE = 10;

	private static final int LEADS = 4;

	/** On the average, between two pages; at the chair a sheet saves itself meanwhile. */
	private static final Duration PAUSE = Duration.ofSeconds(8);

	private static final List<String> REPORTS = List.of("/outcomes/lumps", "/outcomes/improvement",
			"/outcomes/complications", "/outcomes/repeatability", "/outcomes/data-quality", "/outcomes/report",
			"/outcomes/recall", "/setup/audit", "/follow-up");

	private final LoadRecord record = new LoadRecord();

	private final AtomicInteger slots = new AtomicInteger();

	private KillableService service;

	private Clinic clinic;

	private volatile boolean over;

	@TempDir
	private Path folder;

	/** What somebody does again and again. */
	private interface Round {

		void once(Asked person, Random random) throws IOException;

	}

	@Test
	void isAnsweredWithoutAFault() throws Exception {
		var mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
		mail.start();
		this.service = new KillableService(List.of("-Xmx1g"), this.folder.resolve("data"),
				"--spring.mail.host=127.0.0.1", "--spring.mail.port=" + mail.getSmtp().getPort());
		try {
			this.service.start();
			setUp();
			var people = people();
			var sampling = new Thread(() -> this.record.sample(this.service, () -> this.over), "sampling");
			sampling.start();
			people.forEach(Thread::start);
			WritingLoad.pass(Duration.ofMinutes(MINUTES));
			this.over = true;
			for (var person : people) {
				person.join();
			}
			sampling.join();
		}
		finally {
			this.over = true;
			this.service.close();
			mail.stop();
		}
		this.record.write("%d desks, %d chairs, %d patients with links and %d clinic leads for %d min, %d patients"
			.formatted(DESKS, CHAIRS, PATIENTS_WITH_LINKS, LEADS, MINUTES, GENERATED));
		assertThat(this.record.faults()).isEmpty();
	}

	private void setUp() throws IOException {
		var names = new ArrayList<String>();
		for (int i = 0; i < Math.max(CHAIRS, LEADS); i++) {
			names.add("p." + i);
		}
		this.clinic = Clinic.in(Records.embeddedIn(this.service.data()), this.service::address, this.folder,
				10 * (CHAIRS + DESKS) + PATIENTS_WITH_LINKS * links(), names);
		var zip = this.folder.resolve("generated.zip");
		assertThat(this.service.command("generate", "--patients", Integer.toString(GENERATED), zip.toString()))
			.startsWith("exit 0");
		var lead = new Person("lead.p.0", this.service::address);
		lead.signInWithCode();
		assertThat(Office.take(lead, Files.readAllBytes(zip))).contains("on record");
		this.leads.add(lead);
	}

	private final List<Person> leads = new ArrayList<>();

	private List<Thread> people() throws IOException {
		var people = new ArrayList<Thread>();
		for (int i = 0; i < DESKS; i++) {
			people.add(person(signedIn("desk"), desk(this.clinic.give(10)), people.size()));
		}
		for (int i = 0; i < CHAIRS; i++) {
			people.add(person(signedIn("p." + i), chair("p." + i, this.clinic.give(10)), people.size()));
		}
		var desk = signedIn("desk");
		for (int i = 0; i < PATIENTS_WITH_LINKS; i++) {
			var links = new ArrayList<String>();
			for (var patient : this.clinic.give(links())) {
				links.add(linkOf(desk, patient));
			}
			people.add(person(new Person("", this.service::address), answering(links), people.size()));
		}
		for (int i = 0; i < LEADS; i++) {
			if (i > 0) {
				var lead = new Person("lead.p." + i, this.service::address);
				lead.signInWithCode();
				this.leads.add(lead);
			}
			people.add(person(this.leads.get(i), (lead, random) -> {
				var report = REPORTS.get(random.nextInt(REPORTS.size()));
				lead.get(report, report);
			}, people.size()));
		}
		return people;
	}

	private static int links() {
		return LINKS_OF_ONE * (1 + MINUTES / 60);
	}

	private Person signedIn(String name) throws IOException {
		var person = new Person(name, this.service::address);
		person.signIn();
		return person;
	}

	private Thread person(Person person, Round round, int number) {
		var random = new Random(SEED + number);
		var asked = new Asked(person, this.record, () -> pause(random));
		return new Thread(() -> {
			pause(random);
			while (!this.over) {
				try {
					round.once(asked, random);
				}
				catch (IOException ex) {
					this.record.fault(ex.toString());
				}
				pause(random);
			}
		}, "person " + number);
	}

	/** Exponential, as where nobody waits for anybody, and at most five times as long. */
	private void pause(Random random) {
		var times = Math.min(5, -Math.log(1 - random.nextDouble()));
		var end = System.nanoTime() + (long) (PAUSE.toNanos() * times);
		while (!this.over && System.nanoTime() < end) {
			WritingLoad.pass(Duration.ofMillis(50));
		}
	}

	private Round desk(List<Patient> patients) {
		return (desk, random) -> {
			var patient = patients.get(random.nextInt(patients.size()));
			desk.get("/today", "/today");
			desk.get("/patients/search",
					"/patients/search?q=" + List.of("ash", "ida", "ber", "K1").get(random.nextInt(4)));
			desk.get("/patients/{patient}", "/patients/" + patient.id());
			desk.get("/diary", "/diary");
			desk.get("/patients/{patient}/appointments/new", "/patients/" + patient.id() + "/appointments/new");
			var slot = this.slots.getAndIncrement();
			desk.post("/patients/{patient}/appointments/new", "/patients/" + patient.id() + "/appointments/new",
					Map.of("visitFor", "review", "practitioner", this.clinic.staffId("p." + slot % CHAIRS), "visitDay",
							this.clinic.today().plusDays(1 + slot / 100).toString(), "visitTime",
							LocalTime.of(8, 0).plusMinutes(slot % 100 * 5L).toString(), "visitMinutes", "5"));
			desk.get("/sessions/{session}/contacts/new", "/sessions/" + patient.session() + "/contacts/new");
			desk.get("/follow-up", "/follow-up");
		};
	}

	private Round chair(String practitioner, List<Patient> patients) {
		return (chair, random) -> {
			var patient = patients.get(random.nextInt(patients.size()));
			chair.get("/patients/{patient}", "/patients/" + patient.id());
			chair.get("/patients/{patient}/before", "/patients/" + patient.id() + "/before");
			chair.get("/series/{series}", "/series/" + patient.series());
			var address = "/series/" + patient.series() + "/sessions/new";
			var sheet = chair.get("/series/{series}/sessions/new", address + "?paper=yes");
			var form = new HashMap<String, String>();
			form.put("number", Jsoup.parse(sheet.body()).select("[name=number]").attr("value"));
			form.put("treatedOn", this.clinic.today().minusDays(1).toString());
			form.put("practitioner", this.clinic.staffId(practitioner));
			form.put("vesselsSeen", "true");
			form.put("page", new UUID(random.nextLong(), random.nextLong()).toString());
			Map.of("number", "1", "product", "biostimulator A", "vialMg", "200", "diluentMl", "5", "stockDrawnMl", "2",
					"addedDiluentMl", "0", "lidocaineMl", "0", "discardedMl", "0")
				.forEach((name, value) -> form.put("preparations[0]." + name, value));
			var saving = address;
			for (int row = 0; row < 10; row++) {
				for (var field : Map
					.of("number", "" + (row + 1), "preparation", "1", "region", "cheek_lateral_left", "target", "pores",
							"layer", "mid_dermis", "points", "10", "pointMl", "0.02")
					.entrySet()) {
					form.put("injections[" + row + "]." + field.getKey(), field.getValue());
				}
				var saving2 = new HashMap<>(form);
				saving2.put("save", "true");
				var told = Jsoup.parse(chair.post("/drafts/{draft} (saves itself)", saving, saving2).body())
					.selectFirst("#saved");
				if (told != null) {
					saving = told.attr("data-action");
					form.put("version", told.attr("data-version"));
				}
			}
			chair.post("/drafts/{draft}", saving, form);
			chair.get("/patients/{patient}/photographs", "/patients/" + patient.id() + "/photographs");
			chair.post("/patients/{patient}/photographs/consent", "/patients/" + patient.id() + "/photographs/consent",
					Map.of("purpose", "care", "givenOn", this.clinic.today().toString()));
			chair.upload("/patients/{patient}/photographs", "/patients/" + patient.id() + "/photographs",
					Map.of("view", "front", "lightSet", "flat"), "picture.jpg",
					TestPictures.jpeg(1_000 + random.nextInt(400), 1_000 + random.nextInt(400)));
		};
	}

	private static String linkOf(Person desk, Patient patient) throws IOException {
		var page = "/patients/" + patient.id() + "/contact-link";
		desk.post(page, Map.of());
		return "/answer/" + desk.get(page).body().replaceAll("(?s).*?/answer/([A-Za-z0-9_-]+).*", "$1");
	}

	private static Round answering(List<String> links) {
		return (patient, random) -> {
			var link = links.get(random.nextInt(links.size()));
			var page = Jsoup.parse(patient.get("/answer/{token}", link).body());
			patient.post("/answer/{token}", link,
					Map.of("form", page.select("[name=form]").attr("value"), "lumpNow", "absent", "painNrs", "1"));
		};
	}

}
