package org.seriatim.privacy.web;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.LocalDate;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.ZipInputStream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.PhotographIntake;
import org.seriatim.photograph.PhotographIntake.Taken;
import org.seriatim.photograph.TestPictures;
import org.seriatim.photograph.View;
import org.seriatim.support.PageTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** The photographs among the files that a clinic lead gives a patient. */
@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class PhotographsToTakeTests {

	@Autowired
	MockMvcTester browser;

	@Autowired
	JdbcClient database;

	@Autowired
	PhotographIntake photographs;

	@Autowired
	BundleImport bundles;

	private PatientId patient;

	@BeforeEach
	void aPatientWithPhotographs() {
		var given = new TestTreatment(this.database);
		this.patient = given.patient("T-1");
		var scar = given.scar(this.patient, "A", Region.NOSE);
		this.photographs.allow(this.patient, LocalDate.of(2026, 10, 9));
		var day = LocalDate.of(2026, 10, 9);
		this.photographs.add(this.patient, new Taken(day, View.FRONT, LightSet.FLAT, null, 100, "bench"),
				TestPictures.jpeg(400, 600));
		this.photographs.add(this.patient, new Taken(day, View.FRONT, LightSet.FLAT, null, 100, "bench"),
				TestPictures.jpeg(440, 600));
		this.photographs.add(this.patient, new Taken(day, View.CLOSE, LightSet.RAKING, scar, 25, "bench"),
				TestPictures.png(300, 300));
		this.database.sql("""
				update photograph set set_aside = true, correction_reason = 'blurred', version = version + 1
				where width = 440""").update();
	}

	@Test
	void areFilesWithAListAndTheirChecksums(@TempDir Path folder) throws Exception {
		var zip = zip();
		var files = files(zip);
		assertThat(files.keySet()).contains("patients.csv", "photographs/2026-10-09-front.jpg",
				"photographs/2026-10-09-front-2.jpg", "photographs/2026-10-09-close-nose.jpg", "photographs/SHA256SUMS",
				"photographs/photographs.html");
		var sums = new String(files.get("photographs/SHA256SUMS"), StandardCharsets.US_ASCII);
		assertThat(sums.lines()).hasSize(3).allSatisfy((line) -> {
			var parts = line.split("  ");
			assertThat(sha256(files.get("photographs/" + parts[1]))).isEqualTo(parts[0]);
			assertThat(TestPictures.decoded(files.get("photographs/" + parts[1]))).isNotNull();
		});
		assertThat(new String(files.get("photographs/photographs.html"), StandardCharsets.UTF_8))
			.contains("9 Oct 2026", "Front", "Close view, Nose", "<td>A</td>", "Raking light",
					"set aside, kept out of sight", "Treatment and its record: given on 9 Oct 2026")
			.doesNotContain("??", "th:");
		assertThat(this.database.sql("""
				select count(*) from audit_entry
				where action = 'exported' and kind = 'photograph' and patient_id = ? and detail = 'report'""")
			.params(this.patient.value())
			.query(Long.class)
			.single()).isEqualTo(3);
		var file = Files.write(folder.resolve("part.zip"), zip);
		assertThat(this.bundles.take(file, false, ImportProgress.UNWATCHED)).isInstanceOf(ImportResult.Taken.class);
	}

	@Test
	void stayHereWithoutConsentAndTheListSaysSo() throws Exception {
		this.database.sql("""
				update photograph_consent set withdrawn_on = '2026-11-02', correction_reason = 'by letter',
					version = version + 1""").update();
		var files = files(zip());
		assertThat(files.keySet()).filteredOn((name) -> name.startsWith("photographs/"))
			.containsExactly("photographs/photographs.html");
		assertThat(new String(files.get("photographs/photographs.html"), StandardCharsets.UTF_8))
			.contains("is not in force", "given on 9 Oct 2026, withdrawn on 2 Nov 2026", "9 Oct 2026")
			.doesNotContain("href=");
		assertThat(
				this.database.sql("select count(*) from audit_entry where kind = 'photograph' and action = 'exported'")
					.query(Long.class)
					.single())
			.isZero();
	}

	@Test
	void whoHasNoneGetsTheBundleAlone() throws Exception {
		this.patient = new TestTreatment(this.database).patient("T-2");
		assertThat(files(zip()).keySet()).noneMatch((name) -> name.startsWith("photographs/"));
	}

	private byte[] zip() {
		var answer = this.browser.post().uri("/patients/" + this.patient + "/report.zip").with(csrf()).exchange();
		assertThat(answer).hasStatusOk();
		return answer.getResponse().getContentAsByteArray();
	}

	private static Map<String, byte[]> files(byte[] zip) throws IOException {
		var files = new LinkedHashMap<String, byte[]>();
		try (var in = new ZipInputStream(new ByteArrayInputStream(zip))) {
			for (var entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
				files.put(entry.getName(), in.readAllBytes());
			}
		}
		return files;
	}

	private static String sha256(byte[] content) throws NoSuchAlgorithmException {
		return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(content));
	}

}
