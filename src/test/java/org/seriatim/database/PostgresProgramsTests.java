package org.seriatim.database;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Instant;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import org.seriatim.support.InMemory;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

class PostgresProgramsTests {

	private static final FileTime LONG_AGO = FileTime.from(Instant.parse("2026-01-01T00:00:00Z"));

	@TempDir(factory = InMemory.class)
	Path cache;

	@Test
	void areUnpackedOnceAndAgainWhenAFileIsMissing() throws IOException {
		PostgresPrograms programs = PostgresPrograms.in(this.cache);
		assertThat(programs.majorVersion()).isEqualTo(18);
		assertThat(programs.run("initdb", "", "--version").output()).startsWith("initdb (PostgreSQL) 18.");

		Path initdb = programs.folder().resolve("bin/initdb");
		Files.setLastModifiedTime(initdb, LONG_AGO);
		PostgresPrograms.in(this.cache);
		assertThat(Files.getLastModifiedTime(initdb)).isEqualTo(LONG_AGO);

		Files.delete(programs.folder().resolve("share/postgresql/postgres.bki"));
		PostgresPrograms.in(this.cache);
		assertThat(programs.folder().resolve("share/postgresql/postgres.bki")).isNotEmptyFile();
		try (var folders = Files.list(this.cache)) {
			assertThat(folders).containsExactly(programs.folder());
		}
	}

	@Test
	void sayWhereTheyCannotBeUnpacked() throws IOException {
		Path file = Files.createFile(this.cache.resolve("file"));
		assertThatExceptionOfType(RecordsUnavailable.class).isThrownBy(() -> PostgresPrograms.in(file))
			.withMessageContaining(file.toString())
			.withMessageContaining("seriatim.programs");
	}

}
