package org.seriatim.exchange;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

/** Bundles that nobody in his right mind would make. */
@PageTest
@OneDatabase
class HostileBundleTests {

	private static final long SEED = 20_261_120;

	private static final int ROUNDS = 150;

	private static final String[] SCRAPS = { "", "\"", ",", "\n", "\r", "\u0000", "\\N", "\\.", "-1", "1e999", "NaN",
			"999999999999", "0", "2026-02-30", "9999-12-31", "2026-01-10", "2026-04-04T09:00:00+19:00", "yes", "P1",
			"P2", "S1", "F1", "1", "2", "keloid", "open", "completed", "'; drop table patient; --", "\uFEFF", "ä",
			"\uD83D\uDE00", "%s", "{0}", ":recorded_at", "A".repeat(20_000) };

	@Autowired
	private BundleImport bundleImport;

	@Autowired
	private JdbcTemplate jdbc;

	@TempDir
	private Path folder;

	@Test
	void whateverABundleHoldsItIsTakenOrRefusedWithReasons() {
		Random random = new Random(SEED);
		AtomicInteger refusals = new AtomicInteger();
		AtomicReference<Map<String, String>> records = new AtomicReference<>(RecordCounts.of(this.jdbc));
		for (int round = 0; round < ROUNDS; round++) {
			SampleBundle bundle = SampleBundle.onePatient();
			boolean mild = random.nextInt(3) > 0;
			for (int damages = 1 + random.nextInt(3); damages > 0; damages--) {
				if (mild) {
					change(bundle, random);
				}
				else {
					damage(bundle, random);
				}
			}
			Path path = random.nextBoolean() ? bundle.writeTo(this.folder.resolve("bundle" + round)) : bundle
				.zipTo(this.folder.resolve("bundle" + round + ".zip"), random.nextBoolean() ? "" : "clinic/");
			boolean update = mild || random.nextBoolean();
			assertThatCode(() -> {
				ImportResult result = this.bundleImport.take(path, update, ImportProgress.UNWATCHED);
				if (result instanceof ImportResult.Refused refused) {
					List<Problem> all = new ArrayList<>();
					refused.problems().forEach(all::add);
					assertThat(all).isNotEmpty().hasSize(Math.toIntExact(refused.problems().count()));
					assertThat(RecordCounts.of(this.jdbc)).isEqualTo(records.get());
					refused.problems().discard();
					refusals.incrementAndGet();
				}
				else {
					records.set(RecordCounts.of(this.jdbc));
				}
			}).as("round %d of seed %d", round, SEED).doesNotThrowAnyException();
		}
		assertThat(refusals.get()).isBetween(ROUNDS / 3, ROUNDS - 20);
	}

	/**
	 * Gives a cell the value of another row, from another clinic, which may make sense.
	 */
	private static void change(SampleBundle bundle, Random random) {
		String file = BundleFormat.FILES.get(random.nextInt(BundleFormat.FILES.size()));
		String[] others = SampleBundle.whole().files().get(file).split("\n");
		String[] columns = others[0].split(",");
		int column = random.nextInt(columns.length);
		String[] cells = others[1 + random.nextInt(others.length - 1)].split(",", -1);
		if (cells.length == columns.length) {
			bundle.cell(file, 2, columns[column], cells[column]);
		}
	}

	private static void damage(SampleBundle bundle, Random random) {
		String file = BundleFormat.FILES.get(random.nextInt(BundleFormat.FILES.size()));
		String scrap = SCRAPS[random.nextInt(SCRAPS.length)];
		bundle.edit(file, (text) -> {
			int at = random.nextInt(text.length() + 1);
			int to = Math.min(text.length(), at + random.nextInt(8));
			return switch (random.nextInt(6)) {
				case 0 -> text.substring(0, at) + scrap + text.substring(at);
				case 1 -> text.substring(0, at) + text.substring(to);
				case 2 -> text.substring(0, at) + scrap + text.substring(to);
				case 3 -> text + text.substring(text.indexOf('\n') + 1);
				case 4 -> cell(text, scrap, random);
				default -> cell(text, '"' + scrap.replace("\"", "\"\"") + '"', random);
			};
		});
		switch (random.nextInt(40)) {
			case 0 -> bundle.remove(file);
			case 1 -> bundle.encode(file, StandardCharsets.UTF_16);
			case 2 -> bundle.put(file, scrap);
			case 3 -> bundle.put(BundleFormat.ABOUT, "key,value\n" + scrap + ",1\n");
			default -> {
			}
		}
	}

	private static String cell(String text, String scrap, Random random) {
		String[] cells = text.split("(?<=[,\n])|(?=[,\n])");
		if (cells.length > 0) {
			cells[random.nextInt(cells.length)] = scrap;
		}
		return String.join("", cells);
	}

}
