package org.seriatim.backup.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.access.domain.Console;
import org.seriatim.backup.domain.BackupFolder;
import org.seriatim.backup.domain.CheckBackup;
import org.seriatim.backup.domain.Passphrase;
import org.seriatim.database.RecordsOwner;
import org.seriatim.support.OpenForm;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.TestClock;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationContext;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.util.FileSystemUtils;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
class BackupPageTests {

	private static final String SECRET = "nine calm herons wade";

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@Autowired
	private BackupFolder folder;

	@Autowired
	private CheckBackup check;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private RecordsOwner owner;

	@Autowired
	private TestClock clock;

	@Autowired
	private ApplicationContext application;

	@TempDir
	private Path temporary;

	@BeforeEach
	void beginWithoutFiles() throws IOException {
		FileSystemUtils.deleteRecursively(this.folder.path().getParent());
	}

	@Test
	void anAdministratorMakesABackupAndTakesItAway() throws IOException {
		assertThat(text(page(Role.ADMINISTRATOR))).contains("There is no backup yet", "none yet");
		assertThat(make()).hasStatus(HttpStatus.FOUND).hasRedirectedUrl("/setup/backups");
		String name = "seriatim-20261120T090000Z.backup";
		assertThat(text(page(Role.ADMINISTRATOR))).contains("20 Nov 2026, 09:00", "just now", "asked for", "good", name)
			.doesNotContain("There is no backup yet");
		MvcTestResult download = this.pages.post()
			.uri("/setup/backups/download")
			.formField("file", name)
			.with(csrf())
			.with(this.staff.as(Role.ADMINISTRATOR))
			.exchange();
		assertThat(download).hasStatusOk()
			.hasHeader(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"" + name + "\"");
		Path taken = Files.write(this.temporary.resolve(name), download.getResponse().getContentAsByteArray());
		assertThat(this.check.of(taken, Passphrase.of(SECRET)).tables()).containsKeys("account", "audit_entry");
		assertThat(this.jdbc.queryForList(
				"select action || ' ' || detail from audit_entry where kind = 'backup' order by id", String.class))
			.hasSize(2)
			.last()
			.isEqualTo("exported " + name);
	}

	@Test
	void nothingButABackupCanBeTakenAway() throws IOException {
		make();
		Files.writeString(this.folder.path().resolve("seriatim-other.backup"), "else");
		for (String name : List.of("seriatim-other.backup", "../service.key", "..", "",
				"seriatim-20260101T000000Z.backup")) {
			assertThat(this.pages.post()
				.uri("/setup/backups/download")
				.formField("file", name)
				.with(csrf())
				.with(this.staff.as(Role.ADMINISTRATOR))).as(name).hasStatus(HttpStatus.NOT_FOUND);
		}
	}

	@Test
	void theLeadIsToldHowOldTheLastOneIsAndWhyOneFailed() {
		make();
		this.clock.advance(Duration.ofDays(3));
		String page = text(page(Role.CLINIC_LEAD));
		assertThat(page).contains("The last good backup is 3 days old.", "3 days ago")
			.doesNotContain("seriatim-20261120T090000Z", "Make a backup", this.folder.path().toString());
		this.jdbc.execute("""
				insert into backup_run (started_at, ended_at, how, reason, file)
				values ('2026-11-23 02:30Z', '2026-11-23 02:31Z', 'schedule', 'The disk is <full>.', '')""");
		assertThat(text(page(Role.CLINIC_LEAD))).contains("The last attempt failed: The disk is <full>.", "by itself");
		assertThat(text(this.pages.get().uri("/today").with(this.staff.as(Role.CLINIC_LEAD)).exchange()))
			.contains("The last good backup is 3 days old.");
		assertThat(text(this.pages.get().uri("/today").with(this.staff.as(Role.PRACTITIONER)).exchange()))
			.doesNotContain("backup");
	}

	@Test
	void aLostClinicComesBackOnTheFirstVisitOfAnotherMachine() throws Exception {
		this.jdbc.execute("insert into patient (record_number) values ('K1')");
		make();
		byte[] backup = Files.readAllBytes(this.folder.file("seriatim-20261120T090000Z.backup").orElseThrow());
		// as on a machine that has nothing
		new JdbcTemplate(this.owner.dataSource()).execute("truncate account, patient cascade");

		assertThat(OpenForm.document(this.pages.get().uri("/set-up").exchange()).select("a[href=/set-up/restore]"))
			.isNotEmpty();
		String code = Console.setupCode(this.application);
		assertThat(RefusedForm.messages(restore(null, "", ""))).containsOnlyKeys("code", "backup", "passphrase");
		assertThat(RefusedForm.messages(restore(backup, "1000-1000-1000-1000", SECRET))).containsOnlyKeys("code");
		assertThat(RefusedForm.messages(restore(backup, code, "ten calm herons wade"))).containsOnlyKeys("passphrase")
			.extractingByKey("passphrase")
			.asString()
			.contains("does not open the backup");
		byte[] damaged = backup.clone();
		damaged[damaged.length - 5] ^= 4;
		assertThat(RefusedForm.messages(restore(damaged, code, SECRET))).containsOnlyKeys("backup")
			.extractingByKey("backup")
			.asString()
			.contains("damaged");
		assertThat(RefusedForm.messages(restore("a letter".getBytes(StandardCharsets.UTF_8), code, SECRET)))
			.extractingByKey("backup")
			.asString()
			.contains("no backup of Seriatim");
		assertThat(this.jdbc.queryForObject("select count(*) from patient", Integer.class)).isZero();

		var restored = restore(backup, code, SECRET);
		assertThat(restored).hasStatusOk();
		assertThat(text(restored)).contains("The backup is restored", "As of 20 Nov 2026, 09:00")
			.doesNotContain("another key");
		assertThat(this.jdbc.queryForObject("select record_number from patient", String.class)).isEqualTo("K1");
		assertThat(this.pages.get().uri("/set-up/restore")).hasRedirectedUrl("/sign-in");
		assertThat(restore(backup, code, SECRET)).hasRedirectedUrl("/sign-in");
		assertThat(text(page(Role.ADMINISTRATOR))).contains("Last good backup");
	}

	private MvcTestResult restore(byte[] backup, String code, String passphrase) {
		return this.pages.post()
			.uri("/set-up/restore")
			.multipart()
			.file(new MockMultipartFile("backup", "clinic.backup", "application/octet-stream",
					(backup != null) ? backup : new byte[0]))
			.param("code", code)
			.param("passphrase", passphrase)
			.with(csrf())
			.exchange();
	}

	private MvcTestResult make() {
		return this.pages.post().uri("/setup/backups").with(csrf()).with(this.staff.as(Role.ADMINISTRATOR)).exchange();
	}

	private MvcTestResult page(Role role) {
		return this.pages.get().uri("/setup/backups").with(this.staff.as(role)).exchange();
	}

	private static String text(MvcTestResult page) {
		assertThat(page).hasStatusOk();
		return OpenForm.document(page).body().text();
	}

}
