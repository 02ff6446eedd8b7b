package org.seriatim.photograph.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

import org.junit.jupiter.api.Test;
import org.seriatim.photograph.PhotographId;
import org.seriatim.support.PageTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;

/** Files of photographs whose rows never came, as a killed service leaves them. */
@PageTest
class FilesToRemoveTests {

	@Autowired
	private FilesToRemove leftovers;

	@Autowired
	private PhotographFiles files;

	@Autowired
	private JdbcClient database;

	private final PhotographId id = PhotographId.next();

	@Test
	void goWhenTheySurelyAreNotBeingTakenInAnyMore() throws IOException {
		this.leftovers.expect(this.id);
		var whole = written(this.files.whole(this.id));
		var draft = written(this.files.small(this.id).resolveSibling(this.id + "-small.jpg.part"));
		this.leftovers.removeListed();
		assertThat(whole).exists();
		assertThat(draft).exists();
		this.database.sql("update photograph_file_to_remove set not_before = now()").update();
		this.leftovers.removeListed();
		assertThat(whole).doesNotExist();
		assertThat(draft).doesNotExist();
		assertThat(listed()).isZero();
	}

	@Test
	void stayWhenTheirRowsCome() throws IOException {
		this.leftovers.expect(this.id);
		var whole = written(this.files.whole(this.id));
		this.leftovers.keep(this.id);
		this.leftovers.removeListed();
		assertThat(whole).exists();
		assertThat(listed()).isZero();
		this.files.remove(this.id);
	}

	@Test
	void getNoRowWhenTheyWereGivenUp() {
		assertThatIllegalStateException().isThrownBy(() -> this.leftovers.keep(this.id));
	}

	private long listed() {
		return this.database.sql("select count(*) from photograph_file_to_remove").query(Long.class).single();
	}

	private static Path written(Path file) throws IOException {
		Files.createDirectories(file.getParent());
		return Files.write(file, new byte[] { 1 });
	}

}
