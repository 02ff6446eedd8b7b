package org.seriatim.exchange.web;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.util.TreeSet;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;

import javax.sql.DataSource;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.exchange.SampleBundle;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
class ExchangePageTests {

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private TestClock clock;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private DataSource dataSource;

	@TempDir
	private Path folder;

	@Test
	void takesABundleAndSaysWhatItBrought() throws IOException {
		assertThat(upload(SampleBundle.onePatient(), false)).hasStatus(HttpStatus.FOUND)
			.hasRedirectedUrl("/setup/import");
		String page = pageOfTheResult();
		assertThat(page).contains("The bundle is on record", "patients.csv", "SHA-256")
			.doesNotContain("hx-trigger", "Nothing was imported");
		assertThat(this.jdbc.queryForObject("""
				select count(*) from patient join staff on staff.id = recorded_by where staff.name = 'administrator'""",
				Integer.class))
			.as("in the name of who started it")
			.isEqualTo(1);
	}

	@Test
	void aSecondImportOfTheSameBundleSaysThatNothingWasNew() throws IOException {
		upload(SampleBundle.onePatient(), false);
		pageOfTheResult();
		upload(SampleBundle.onePatient(), false);
		assertThat(pageOfTheResult()).contains("All of the bundle was on record already");
	}

	@Test
	void aRowWithOtherValuesNeedsTheConsentToUpdate() throws IOException {
		upload(SampleBundle.onePatient(), false);
		pageOfTheResult();
		SampleBundle other = SampleBundle.onePatient().cell("patients.csv", 2, "sebum", "dry");
		upload(other, false);
		assertThat(pageOfTheResult()).contains("Nothing was imported", "other values than on record in sebum");
		upload(other, true);
		assertThat(pageOfTheResult()).contains("The bundle is on record");
		assertThat(this.jdbc.queryForObject("select sebum from patient", String.class)).isEqualTo("dry");
	}

	@Test
	void showsWhatToMendAndGivesItAsATable() throws IOException {
		upload(SampleBundle.onePatient()
			.cell("patients.csv", 2, "phototype", "7")
			.cell("contacts.csv", 2, "record_number", "=1+1"), false);
		String page = pageOfTheResult();
		assertThat(page).contains("Nothing was imported", "Problems: 2.", "phototype", "(8)", "&quot;7&quot;",
				"a whole number from 1 to 6, or nothing");
		assertThat(this.jdbc.queryForObject("select count(*) from patient", Integer.class)).isZero();
		String address = page.replaceAll("(?s).*href=\"(/setup/import/[^\"]*/problems.csv)\".*", "$1");
		MvcTestResult report = this.pages.get().uri(address).with(this.staff.as(Role.CLINIC_LEAD)).exchange();
		assertThat(report).hasStatusOk()
			.hasHeader(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"import-problems.csv\"");
		assertThat(new String(report.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8))
			.isEqualTo(String.join("\r\n", "\uFEFFfile,line,column,column_name,found,expected",
					"patients.csv,2,8,phototype,\"\"\"7\"\"\",\"a whole number from 1 to 6, or nothing\"",
					"contacts.csv,2,1,record_number,'=1+1,\"a patient, in patients.csv or on record\"", ""));
	}

	@Test
	void watchesAnImportAndStartsNoOtherMeanwhile() throws IOException, SQLException {
		try (Connection other = this.dataSource.getConnection(); var statement = other.createStatement()) {
			// an import in another process holds this one up
			statement.execute("select pg_advisory_lock(hashtext('exchange bundle'))");
			upload(SampleBundle.onePatient(), false);
			assertThat(page())
				.contains("An import is under way", "<progress", "hx-trigger=\"every 1s\"",
						"Started by administrator, 20 Nov 2026")
				.doesNotContain("type=\"file\"");
			assertThat(this.pages.get()
				.uri("/setup/import")
				.header("HX-Request", "true")
				.with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
				.bodyText()
				.contains("hx-trigger=\"every 1s\"", "id=\"import-state\"")
				.doesNotContain("<html");
			assertThat(upload(SampleBundle.onePatient(), false)).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
				.bodyText()
				.contains("Wait until it has ended");
			statement.execute("select pg_advisory_unlock(hashtext('exchange bundle'))");
		}
		assertThat(pageOfTheResult()).contains("The bundle is on record");
	}

	@Test
	void aFileThatIsNoBundleIsRefusedAsOne() {
		assertThat(this.pages.post()
			.uri("/setup/import")
			.multipart()
			.file(new MockMultipartFile("bundle", "letter.zip", "application/zip",
					"Dear Sir".getBytes(StandardCharsets.UTF_8)))
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))).hasStatus(HttpStatus.FOUND);
		assertThat(pageOfTheResult()).contains("Nothing was imported", "a file that is not a ZIP file");
	}

	@Test
	void aFileOfAnotherNameIsNotEvenRead() {
		var refused = this.pages.post()
			.uri("/setup/import")
			.multipart()
			.file(new MockMultipartFile("bundle", "letter.pdf", "application/pdf", new byte[] { 1 }))
			.with(csrf())
			.with(this.staff.as(Role.ADMINISTRATOR))
			.exchange();
		assertThat(refused).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT).bodyText().contains("its name ends in .zip");
	}

	@Test
	void asksForAFileWhereThereIsNone() {
		assertThat(this.pages.post().uri("/setup/import").with(csrf()).with(this.staff.as(Role.ADMINISTRATOR)))
			.hasStatus(HttpStatus.UNPROCESSABLE_CONTENT)
			.bodyText()
			.contains("Choose the ZIP file of a bundle.", "aria-invalid=\"true\"", "href=\"#bundle\"");
		assertThat(this.pages.post()
			.uri("/setup/import")
			.multipart()
			.file(new MockMultipartFile("bundle", "", "application/octet-stream", new byte[0]))
			.with(csrf())
			.with(this.staff.as(Role.ADMINISTRATOR))).hasStatus(HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@Test
	void theProblemsAreGoneAfterADay() throws IOException {
		upload(SampleBundle.onePatient().cell("patients.csv", 2, "phototype", "7"), false);
		String page = pageOfTheResult();
		String address = page.replaceAll("(?s).*href=\"(/setup/import/[^\"]*/problems.csv)\".*", "$1");
		this.clock.advance(Duration.ofHours(25));
		assertThat(this.pages.get().uri(address).with(this.staff.as(Role.ADMINISTRATOR)))
			.hasStatus(HttpStatus.NOT_FOUND);
		assertThat(page()).contains("Import a bundle").doesNotContain("Nothing was imported");
	}

	@Test
	void givesAllRecordsOutAsAZipFile() throws IOException {
		upload(SampleBundle.onePatient(), false);
		pageOfTheResult();
		assertThat(this.pages.get().uri("/setup/export").with(this.staff.as(Role.CLINIC_LEAD))).hasStatusOk()
			.bodyText()
			.contains("Export all records", "records of all patients");
		MvcTestResult export = this.pages.post()
			.uri("/setup/export")
			.with(csrf())
			.with(this.staff.as(Role.CLINIC_LEAD))
			.exchange();
		assertThat(export).hasStatusOk()
			.hasHeader(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"seriatim-bundle-2026-11-20.zip\"");
		TreeSet<String> names = new TreeSet<>();
		try (ZipInputStream zip = new ZipInputStream(
				new ByteArrayInputStream(export.getResponse().getContentAsByteArray()))) {
			for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
				names.add(entry.getName());
			}
		}
		assertThat(names).hasSize(15).contains(BundleFormat.ABOUT).containsAll(BundleFormat.FILES);
		assertThat(
				this.jdbc.queryForObject("select count(*) from audit_entry where action = 'exported'", Integer.class))
			.isEqualTo(1);
	}

	private MvcTestResult upload(SampleBundle bundle, boolean update) throws IOException {
		Path zip = bundle.zipTo(Files.createTempFile(this.folder, "bundle", ".zip"), "");
		var request = this.pages.post()
			.uri("/setup/import")
			.multipart()
			.file(new MockMultipartFile("bundle", "bundle.zip", "application/zip", Files.readAllBytes(zip)));
		if (update) {
			request.param("update", "true");
		}
		return request.with(csrf()).with(this.staff.as(Role.ADMINISTRATOR)).exchange();
	}

	private String pageOfTheResult() {
		return await().atMost(Duration.ofMinutes(1)).until(this::page, (page) -> !page.contains("<progress"));
	}

	private String page() throws IOException {
		return this.pages.get()
			.uri("/setup/import")
			.with(this.staff.as(Role.ADMINISTRATOR))
			.exchange()
			.getResponse()
			.getContentAsString();
	}

}
