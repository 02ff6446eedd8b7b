package org.seriatim.backup.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.PassphraseRules;
import org.seriatim.support.PageTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.context.MessageSource;
import org.springframework.core.env.StandardEnvironment;
import org.springframework.jdbc.core.JdbcTemplate;
import picocli.CommandLine;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
@ExtendWith(OutputCaptureExtension.class)
class BackupCommandTests {

	private static final String SECRET = "nine calm herons wade";

	@Autowired
	private RunBackup backup;

	@Autowired
	private CheckBackup check;

	@Autowired
	private PassphraseRules rules;

	@Autowired
	private MessageSource messages;

	@Autowired
	private JdbcTemplate jdbc;

	@TempDir
	private Path folder;

	@Test
	void writesABackupSaysWhatIsInItAndChecksIt(CapturedOutput output) {
		String file = this.folder.resolve("clinic.backup").toString();
		assertThat(run(SECRET, null, file)).isZero();
		assertThat(output.getOut()).containsPattern("protocol_version +1  [0-9a-f]{64}\\R")
			.containsPattern("\\d+ rows in \\d+ tables, \\d+ files");
		assertThat(run(SECRET, null, "--check", file)).isZero();
		assertThat(run("ten calm herons wade", null, "--check", file)).isEqualTo(1);
		assertThat(output.getErr()).contains("The passphrase does not open this backup.");
		assertThat(run(SECRET, null, file)).isEqualTo(1);
		assertThat(output.getErr()).contains("something at " + file + " already");
		assertThat(output.getAll()).doesNotContain(SECRET);
		assertThat(this.jdbc.queryForList(
				"select how || ' ' || file || ' ' || (bytes > 1000) || coalesce(reason, '') from backup_run where reason is null",
				String.class))
			.containsExactly("command clinic.backup true");
		assertThat(this.jdbc.queryForList("select detail from audit_entry where kind = 'backup' order by id",
				String.class))
			.hasSize(2)
			.first()
			.asString()
			.startsWith("made, ");
		assertThat(this.jdbc.queryForObject("select reason from backup_run where reason is not null", String.class))
			.contains("something at");
	}

	@Test
	void takesThePassphraseFromAFileToo() throws IOException {
		Path secret = Files.writeString(this.folder.resolve("passphrase"), SECRET + "\n");
		String file = this.folder.resolve("clinic.backup").toString();
		assertThat(run(null, secret, file)).isZero();
		assertThat(run(SECRET, null, "--check", file)).isZero();
	}

	@Test
	void makesNoBackupWithoutAGoodPassphrase(CapturedOutput output) {
		String file = this.folder.resolve("clinic.backup").toString();
		assertThat(run("too short a one", null, file)).isZero();
		Path other = this.folder.resolve("other.backup");
		assertThat(run("fourteen chars", null, other.toString())).isEqualTo(1);
		assertThat(output.getErr()).contains("at least 15 characters");
		assertThat(run(null, null, other.toString())).isEqualTo(1);
		assertThat(output.getErr()).contains("SERIATIM_BACKUP_PASSPHRASE");
		assertThat(run(null, this.folder.resolve("none"), other.toString())).isEqualTo(1);
		assertThat(output.getErr()).contains("cannot be read from");
		assertThat(other).doesNotExist();
	}

	private int run(@Nullable String variable, @Nullable Path file, String... arguments) {
		var environment = new StandardEnvironment() {

			@Override
			public Map<String, Object> getSystemEnvironment() {
				return (variable != null) ? Map.of(Passphrases.VARIABLE, variable) : Map.of();
			}

		};
		var settings = new BackupSettings(null, file, List.of(LocalTime.of(2, 30)), 7, 5, 12, Duration.ofDays(2));
		var passphrases = new Passphrases(environment, settings, this.rules, this.messages);
		return new CommandLine(new BackupCommand(this.backup, this.check, passphrases)).execute(arguments);
	}

}
