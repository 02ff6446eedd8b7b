package org.seriatim.exchange;

import java.lang.management.ManagementFactory;
import java.lang.management.OperatingSystemMXBean;
import java.nio.file.Path;
import java.time.Duration;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;

import static org.assertj.core.api.Assertions.assertThat;

/** A clinic's records of many years, in the time that somebody waits. */
@PageTest
class LargeBundleTests {

	private static final Duration PATIENCE = Duration.ofSeconds(30);

	@Autowired
	private BundleImport bundleImport;

	@TempDir
	private Path folder;

	@Test
	void takesAHundredThousandRowsInThirtySeconds() {
		Path bundle = SampleBundle.times(7).writeTo(this.folder);
		long begun = System.nanoTime();
		ImportResult result = this.bundleImport.take(bundle, false, ImportProgress.UNWATCHED);
		Duration needed = Duration.ofNanos(System.nanoTime() - begun);
		assertThat(result).isInstanceOfSatisfying(ImportResult.Taken.class,
				(taken) -> assertThat(taken.added()).isGreaterThan(100_000));
		assertThat(needed).isLessThan(PATIENCE.multipliedBy(shareOfOthers()));
	}

	/**
	 * How many others want each processor: the promise is about a machine of one's own.
	 */
	private static long shareOfOthers() {
		OperatingSystemMXBean machine = ManagementFactory.getOperatingSystemMXBean();
		return Math.max(1, Math.round(machine.getSystemLoadAverage() / machine.getAvailableProcessors()));
	}

}
