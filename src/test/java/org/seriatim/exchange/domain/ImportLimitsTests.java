package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.atomic.AtomicReference;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportProgress.Stage;
import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.Problem;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.config.AutowireCapableBeanFactory;
import org.springframework.util.unit.DataSize;

import static org.assertj.core.api.Assertions.assertThat;

/** What an import holds in memory or on disk is bounded, whatever comes. */
@PageTest
@OneDatabase
class ImportLimitsTests {

	private static final int LARGEST = 1 << 20;

	@Autowired
	private AutowireCapableBeanFactory beans;

	@TempDir
	private Path folder;

	private ImportBundle importBundle;

	@BeforeEach
	void smallLimits() {
		ExchangeSettings settings = new ExchangeSettings(DataSize.ofBytes(LARGEST), 3, Duration.ofHours(1));
		ImportBundle bean = this.beans.getBean(ImportBundle.class);
		this.importBundle = bean.limitedBy(settings);
	}

	@Test
	void aBundleThatUnpacksToTooMuchIsLeftAtTheLimit() throws IOException {
		Path zip = this.folder.resolve("bomb.zip");
		byte[] row = "P1,,,,,,,,,\n".repeat(1 << 10).getBytes(StandardCharsets.UTF_8);
		try (OutputStream out = Files.newOutputStream(zip); ZipOutputStream entries = new ZipOutputStream(out)) {
			entries.putNextEntry(new ZipEntry("patients.csv"));
			entries.write(("record_number,family_name,given_name,birth_date,sex,phone,email,phototype,skin_thickness,"
					+ "sebum\n")
				.getBytes(StandardCharsets.UTF_8));
			for (int written = 0; written < 64 * LARGEST; written += row.length) {
				entries.write(row);
			}
		}
		assertThat(Files.size(zip)).isLessThan(LARGEST);
		AtomicReference<Long> most = new AtomicReference<>(0L);
		ImportResult result = this.importBundle.take(zip, false, (stage, file, done, total) -> {
			if (stage == Stage.READING) {
				most.set(done);
			}
		});
		assertThat(((ImportResult.Refused) result).problems().first()).containsExactly(
				new Problem("patients.csv", null, null, null, "more than 1,048,576 bytes in the bundle so far",
						"a bundle of at most 1,048,576 bytes once it is unpacked"));
		assertThat(most.get()).isLessThan(2 * LARGEST);
	}

	@Test
	void thePageShowsTheFirstProblemsAndTheReportHoldsAll() throws IOException {
		for (String name : BundleFormat.FILES) {
			Files.writeString(this.folder.resolve(name), "nonsense\n");
		}
		StringBuilder patients = new StringBuilder(
				"record_number,family_name,given_name,birth_date,sex,phone,email,phototype,skin_thickness,sebum\n");
		for (int i = 0; i < 5_000; i++) {
			patients.append('P').append(i).append(",,,,,,,7,,\n");
		}
		Files.writeString(this.folder.resolve("patients.csv"), patients);
		ImportResult.Refused refused = (ImportResult.Refused) this.importBundle.take(this.folder, false,
				ImportProgress.UNWATCHED);
		assertThat(refused.complete()).isFalse();
		assertThat(refused.problems().first()).extracting(Problem::line).containsExactly(2, 3, 4);
		List<Problem> all = new ArrayList<>();
		refused.problems().forEach(all::add);
		assertThat(all).hasSize(Math.toIntExact(refused.problems().count())).hasSizeGreaterThan(5_000);
		assertThat(all.subList(0, 5_000)).allMatch((problem) -> "phototype".equals(problem.column()));
		assertThat(all.get(4_999).line()).isEqualTo(5_001);
		refused.problems().discard();
	}

	@Test
	void whatWasFoundIsReadableByTheOwnerOnlyAndGoneWhenItIsDiscarded() throws IOException {
		ProblemSpool spool = ProblemSpool.of(new Problem("a.csv", 1, 2, "c", "f", "e"), 1);
		Path file = spool.file();
		assertThat(Files.getPosixFilePermissions(file))
			.isEqualTo(Set.of(PosixFilePermission.OWNER_READ, PosixFilePermission.OWNER_WRITE));
		spool.discard();
		assertThat(file).doesNotExist();
	}

}
