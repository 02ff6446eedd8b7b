package org.seriatim.shell;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import static org.assertj.core.api.Assertions.assertThat;

class PassingFilesTests {

	@TempDir
	private Path data;

	@Test
	void ofAKilledServiceGoWhenTheNextOneStarts() throws IOException {
		// as a killed one leaves it: a folder whose lock nobody holds
		var left = Files.createDirectories(this.data.resolve("passing/left"));
		Files.createFile(left.resolve("lock"));
		Files.write(Files.createDirectories(left.resolve("tomcat/work")).resolve("upload.tmp"), new byte[] { 1 });
		var passing = new PassingFiles(new PassingSettings(this.data));
		assertThat(left).doesNotExist();
		passing.destroy();
	}

	@Test
	void ofAServiceThatRunsStay() throws IOException {
		var one = new PassingFiles(new PassingSettings(this.data));
		var upload = one.create(".zip");
		var two = new PassingFiles(new PassingSettings(this.data));
		assertThat(upload).exists();
		assertThat(two.create(".zip")).exists().isNotEqualTo(upload);
		two.destroy();
		assertThat(upload).exists();
		one.destroy();
	}

	@Test
	void goWithTheirService() throws IOException {
		var passing = new PassingFiles(new PassingSettings(this.data));
		var upload = passing.create(".zip");
		var folder = passing.folder("tomcat");
		passing.destroy();
		assertThat(upload).doesNotExist();
		assertThat(folder).doesNotExist();
	}

}
