package org.seriatim.demo.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Clock;
import java.time.LocalDate;
import java.util.concurrent.Callable;

import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;

/**
 * An invented clinic of any size, to try things with and to measure with; it changes no
 * record.
 */
@Component
@Lazy
@Command(name = "generate", mixinStandardHelpOptions = true,
		description = "Writes an invented clinic as an exchange bundle, for trials and measurements.")
class GenerateCommand implements Callable<Integer> {

	private static final int MOST_PATIENTS = 100_000;

	@Option(names = "--patients", paramLabel = "N", required = true, description = "How many, up to 100000.")
	int patients;

	@Option(names = "--seed", paramLabel = "S", defaultValue = "1",
			description = "Another seed gives another clinic (default 1).")
	long seed = 1;

	@Option(names = "--as-of", paramLabel = "DAY",
			description = "The last day of its records, as YYYY-MM-DD (default today).")
	@Nullable LocalDate asOf;

	@Option(names = "--bruises", paramLabel = "SHARE", defaultValue = "0.11",
			description = "Share of sessions that leave a bruise (default 0.11).")
	double bruises;

	@Option(names = "--bruises-of-one", paramLabel = "F", defaultValue = "2.2",
			description = "Factor on bruises under the practitioner " + InventedClinic.BRUISING + " (default 2.2).")
	double bruisesOfOne;

	@Option(names = "--lumps-of-one-lot", paramLabel = "F", defaultValue = "3",
			description = "Factor on lumps from the lot " + InventedClinic.LUMPY_LOT + " (default 3).")
	double lumpsOfOneLot;

	@Option(names = "--lumps", paramLabel = "F", defaultValue = "1", description = "Factor on all lumps (default 1).")
	double lumps;

	@Option(names = "--superficial-lasts", paramLabel = "F", defaultValue = "3",
			description = "How many times as long lumps last in the superficial as in the mid dermis (default 3).")
	double superficialLasts;

	@Option(names = "--deep-lasts", paramLabel = "F", defaultValue = "0.7",
			description = "How many times as long lumps last in the deep as in the mid dermis (default 0.7).")
	double deepLasts;

	@Option(names = "--combined-lasts", paramLabel = "F", defaultValue = "0.65",
			description = "How many times as long lumps last where radiofrequency follows (default 0.65).")
	double combinedLasts;

	@Option(names = "--felt-at-once", paramLabel = "SHARE", defaultValue = "0.5",
			description = "Share of lumps felt at the end of the session (default 0.5).")
	double feltAtOnce;

	@Option(names = "--usual-courses", description = "Every patient comes when asked to, and nothing special happens.")
	boolean usualCourses;

	@Parameters(paramLabel = "FOLDER_OR_ZIP",
			description = "Where to; a ZIP file if the name ends in .zip, else a folder. Nothing is overwritten.")
	Path target = Path.of("");

	private final Clock clock;

	GenerateCommand(Clock clock) {
		this.clock = clock;
	}

	@Override
	public Integer call() throws IOException {
		if (this.patients < 1 || this.patients > MOST_PATIENTS) {
			System.err.println("--patients must be from 1 to " + MOST_PATIENTS + ", but was " + this.patients + ".");
			return CommandLine.ExitCode.USAGE;
		}
		PlantedEffects planted;
		try {
			planted = new PlantedEffects(this.bruises, this.bruisesOfOne, this.lumpsOfOneLot, this.lumps,
					this.superficialLasts, this.deepLasts, this.combinedLasts, this.feltAtOnce, !this.usualCourses);
		}
		catch (IllegalArgumentException ex) {
			System.err.println("Nothing was generated: " + ex.getMessage() + ".");
			return CommandLine.ExitCode.USAGE;
		}
		if (Files.exists(this.target)) {
			System.err.println("Nothing was generated: there is something at " + this.target + " already.");
			return 1;
		}
		var day = (this.asOf != null) ? this.asOf : LocalDate.now(this.clock);
		var clinic = InventedClinic.of(this.patients, this.seed, day, this.clock.getZone(), planted);
		if (this.target.toString().toLowerCase(java.util.Locale.ROOT).endsWith(".zip")) {
			try (var out = Files.newOutputStream(this.target, StandardOpenOption.CREATE_NEW)) {
				clinic.writeTo(out);
			}
		}
		else {
			clinic.writeTo(this.target);
		}
		return 0;
	}

}
