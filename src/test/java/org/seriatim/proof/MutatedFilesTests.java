package org.seriatim.proof;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;

import org.jsoup.Jsoup;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.bundle.BundleFormat;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Changed bundles and pictures, sent to a service that has little memory by the pages
 * that people use. The seed is fixed; {@code -Dmutated.seed} tries another.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class MutatedFilesTests {

	private static final long SEED = Long.getLong("mutated.seed", 20_261_201L);

	/** Of each kind; a thousand in the profile {@code proof}. */
	private static final int FILES = Integer.getInteger("mutated.files", 50);

	private static final int HEAP_MB = 256;

	private static final Pattern FAULT = Pattern
		.compile("Exception\\b|\\tat |Caused by|SQLSTATE|org\\.(springframework|postgresql|seriatim)\\.");

	private KillableService service;

	private Records records;

	private Clinic clinic;

	@BeforeAll
	void start(@TempDir Path folder) throws IOException {
		this.service = new KillableService(folder.resolve("data"), HEAP_MB);
		this.service.start();
		this.records = Records.embeddedIn(this.service.data());
		this.clinic = Clinic.in(this.records, this.service::address, folder, 1, List.of("p.one"));
	}

	@AfterAll
	void end() {
		if (this.service != null) {
			this.service.close();
		}
	}

	@Test
	void bundlesAreTakenAsAWholeOrRefusedWithThePlaceOfEachFault() throws IOException {
		var lead = new Person("lead.p.one", this.service::address);
		lead.signInWithCode();
		var bundles = new MutatedBundles(SEED);
		var outcomes = new TreeMap<String, Integer>();
		var faults = new ArrayList<String>();
		var before = counts();
		for (int round = 0; round < FILES; round++) {
			var bundle = bundles.next();
			var told = Office.shown(lead, bundle.zip());
			var after = counts();
			var outcome = told.select("#import-result-title").text();
			if (outcome.isEmpty()) {
				outcome = "Not even read";
			}
			else if (outcome.contains("Nothing was imported")) {
				var places = told.select("#import-result tbody tr");
				outcome += places.select("td.number").stream().anyMatch((line) -> line.hasText()) ? ", by line"
						: ", by file";
				if (places.isEmpty() || places.select("th").first().text().isEmpty()) {
					faults.add(bundle.how() + " was refused without a place");
				}
			}
			else if (!outcome.contains("on record")) {
				faults.add(bundle.how() + ": " + outcome);
			}
			if (!outcome.contains("on record") && !after.equals(before)) {
				faults.add(bundle.how() + " was refused and changed the records");
			}
			if (FAULT.matcher(told.text()).find()) {
				faults.add(bundle.how() + " was answered with what an exception says");
			}
			outcomes.merge(outcome, 1, Integer::sum);
			before = after;
		}
		report("mutated-bundles", "Changed bundles by the page of the import", outcomes);
		assertThat(faults).as("seed %d", SEED).isEmpty();
		assertThat(this.service.errors()).isEmpty();
	}

	@Test
	void picturesAreTakenOrRefusedWithAReason() throws IOException {
		var patient = this.clinic.give(1).get(0).id();
		var assistant = new Person("assistant", this.service::address);
		assistant.signIn();
		assistant.post("/patients/" + patient + "/photographs/consent",
				Map.of("purpose", "care", "givenOn", this.clinic.today().toString()));
		var pictures = new MutatedPictures(SEED);
		var outcomes = new TreeMap<String, Integer>();
		var faults = new ArrayList<String>();
		for (int round = 0; round < FILES; round++) {
			var picture = pictures.next();
			var answer = assistant.upload("/patients/" + patient + "/photographs",
					Map.of("view", "front", "lightSet", "flat"), "file", "picture.jpg", picture.file());
			var said = Jsoup.parse(answer.body()).text();
			if (answer.status() != 200 && answer.status() != 422) {
				faults.add(picture.how() + " was answered with " + answer.status());
			}
			if (said.isBlank() || FAULT.matcher(said).find()) {
				faults.add(picture.how() + " was answered with: " + said);
			}
			outcomes.merge((answer.status() == 200) ? "Taken" : said, 1, Integer::sum);
		}
		report("mutated-pictures", "Changed pictures by the page of photographs", outcomes);
		assertThat(faults).as("seed %d", SEED).isEmpty();
		assertThat(this.service.errors()).isEmpty();
	}

	private List<String> counts() {
		var tables = BundleFormat.FILES.stream().map(MutatedFilesTests::table).toList();
		var query = new StringBuilder();
		for (var table : tables) {
			query.append(query.isEmpty() ? "" : " union all ").append("select count(*) from ").append(table);
		}
		return this.records.column(query.toString());
	}

	private static String table(String file) {
		var name = file.replace(".csv", "");
		return name.equals("series") ? name : name.replaceFirst("s$", "");
	}

	private void report(String name, String title, Map<String, Integer> outcomes) throws IOException {
		var report = new ProofReport(name, title).row("Files", FILES).row("Seed", SEED);
		outcomes.forEach(report::row);
		report.row("Largest heap allowed", HEAP_MB + " MiB")
			.row("Most memory of the whole process so far", memory())
			.row("Faults of ours", 0)
			.write();
	}

	private String memory() throws IOException {
		var status = Path.of("/proc", Long.toString(this.service.pid()), "status");
		if (!Files.exists(status)) {
			return "not known on this system";
		}
		return Files.readAllLines(status)
			.stream()
			.filter((line) -> line.startsWith("VmHWM"))
			.map((line) -> Long.parseLong(line.replaceAll("\\D", "")) / 1024 + " MiB")
			.findFirst()
			.orElse("–");
	}

}
