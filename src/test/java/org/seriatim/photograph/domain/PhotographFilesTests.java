package org.seriatim.photograph.domain;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.TestPictures;
import org.seriatim.photograph.domain.PictureRefused.Reason;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;

class PhotographFilesTests {

	@TempDir
	Path folder;

	/*
	 * A disk of one megabyte. What was kept before it was full is whole; of what it did
	 * not take there is no trace, and after there is room again it takes more.
	 */
	@Test
	void aFullDiskKeepsWhatItTookAndNothingHalf() throws IOException, InterruptedException {
		mount();
		try {
			var files = new PhotographFiles(new PhotographSettings(this.folder));
			var picture = picture();
			var kept = new ArrayList<PhotographId>();
			var refused = fillUp(files, picture, kept);

			assertThat(kept).isNotEmpty();
			for (var id : kept) {
				assertThat(files.read(files.whole(id))).hasValue(picture.whole());
				assertThat(files.read(files.small(id))).hasValue(picture.small());
			}
			assertThat(files.whole(refused)).doesNotExist();
			assertThat(files.small(refused)).doesNotExist();
			assertThat(names()).hasSize(2 * kept.size()).noneMatch((name) -> name.endsWith(".part"));

			files.remove(kept.get(0));
			files.keep(refused, picture);
			assertThat(files.read(files.whole(refused))).hasValue(picture.whole());
		}
		finally {
			run("umount", this.folder.toString());
		}
	}

	private static PhotographId fillUp(PhotographFiles files, Picture picture, List<PhotographId> kept) {
		for (int more = 0; more < 1000; more++) {
			var id = PhotographId.next();
			try {
				files.keep(id, picture);
				kept.add(id);
			}
			catch (PictureRefused ex) {
				assertThat(ex.reason()).isEqualTo(Reason.NO_ROOM);
				return id;
			}
		}
		return fail("a megabyte holds no thousand pictures");
	}

	private List<String> names() throws IOException {
		try (var all = Files.walk(this.folder)) {
			return all.filter(Files::isRegularFile).map((file) -> file.getFileName().toString()).toList();
		}
	}

	private static Picture picture() {
		var file = TestPictures.jpeg(1200, 900);
		return new PictureIntake().read(() -> new ByteArrayInputStream(file), file.length);
	}

	private void mount() throws InterruptedException {
		boolean mounted = run("mount", "-t", "tmpfs", "-o", "size=1m", "seriatim-test", this.folder.toString());
		Assumptions.assumeTrue(mounted, "This machine lets the test mount no small disk");
	}

	private static boolean run(String... command) throws InterruptedException {
		try {
			var process = new ProcessBuilder(command).redirectErrorStream(true)
				.redirectOutput(ProcessBuilder.Redirect.DISCARD)
				.start();
			return process.waitFor(30, TimeUnit.SECONDS) && process.exitValue() == 0;
		}
		catch (IOException ex) {
			return false;
		}
	}

}
