package org.seriatim.exchange;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;

import static org.assertj.core.api.Assertions.assertThat;

/** A clinic's records of many years, in the time that somebody waits. */
@PageTest
class LargeBundleTests {

	@Autowired
	private BundleImport bundleImport;

	@TempDir
	private Path folder;

	@Test
	void takesAHundredThousandRowsInThirtySeconds() {
		Path bundle = SampleBundle.times(7).writeTo(this.folder);
		long begun = System.nanoTime();
		String[] last = { "" };
		ImportResult result = this.bundleImport.take(bundle, false, (stage, file, done, total) -> {
			if (!last[0].equals(stage + file)) {
				last[0] = stage + file;
				System.out.println(Instant.now() + " cpu "
						+ java.lang.management.ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() / 1000000
						+ " " + stage + " " + file);
			}
		});
		Duration taken = Duration.ofNanos(System.nanoTime() - begun);
		System.out.println("TAKEN " + taken);
		assertThat(result).isInstanceOfSatisfying(ImportResult.Taken.class,
				(whole) -> assertThat(whole.added()).isGreaterThan(100_000));
		assertThat(taken).isLessThan(Duration.ofSeconds(30));
	}

}
