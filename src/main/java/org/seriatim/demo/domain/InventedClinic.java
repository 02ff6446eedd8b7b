package org.seriatim.demo.domain;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/**
 * An invented clinic as an exchange bundle: eighteen months of series up to a given day,
 * the same for the same seed, size, day and {@link PlantedEffects}. Scars flatten by
 * type, most in the first two sessions, and in some patients no longer after that. All
 * figures are invented; none is a claim about any product or technique.
 */
final class InventedClinic {

	/** How far back the clinic's records reach. */
	static final int DAYS_OF_RECORDS = 548;

	static final List<Practitioner> PRACTITIONERS = List.of(new Practitioner("i.sandell", 0.30, 0.10),
			new Practitioner("m.tarrow", 0.28, 0.30), new Practitioner("o.brisk", 0.24, 0.15),
			new Practitioner("v.quell", 0.18, 0.20));

	/** The practitioner under whom more sessions leave a bruise. */
	static final String BRUISING = "o.brisk";

	/** The lot that raises more lumps. */
	static final String LUMPY_LOT = "H2417";

	private final Map<String, InventedFile> files = new LinkedHashMap<>();

	private final Bookings bookings;

	private final LocalDate today;

	private final PlantedEffects planted;

	private int findings;

	private boolean possibleEmergency;

	/**
	 * A practitioner of the clinic.
	 *
	 * @param share share of the clinic's patients
	 * @param superficial probability of placing one layer more superficially than the
	 * region asks for
	 */
	record Practitioner(String name, double share, double superficial) {
	}

	private InventedClinic(LocalDate today, ZoneId zone, PlantedEffects planted) {
		this.today = today;
		this.planted = planted;
		this.bookings = new Bookings(zone);
		add("about.csv", "key", "format_version", "value", 1);
	}

	static InventedClinic of(int patients, long seed, LocalDate today, ZoneId zone) {
		return of(patients, seed, today, zone, PlantedEffects.USUAL);
	}

	static InventedClinic of(int patients, long seed, LocalDate today, ZoneId zone, PlantedEffects planted) {
		var clinic = new InventedClinic(today, zone, planted);
		RandomGenerator seeds = generator(seed);
		for (int number = 1; number <= patients; number++) {
			new InventedPatient(clinic, number, generator(seeds.nextLong())).live();
		}
		return clinic;
	}

	private static RandomGenerator generator(long seed) {
		return RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
	}

	LocalDate today() {
		return this.today;
	}

	PlantedEffects planted() {
		return this.planted;
	}

	Bookings bookings() {
		return this.bookings;
	}

	/** One patient of the clinic has a possible emergency that nobody has closed. */
	boolean isFirstPossibleEmergency() {
		var first = !this.possibleEmergency;
		this.possibleEmergency = true;
		return first;
	}

	String nextFinding() {
		this.findings++;
		return "A%06d".formatted(this.findings);
	}

	/**
	 * Adds a row.
	 * @param cells column names and values in turn; an empty text is an unknown value
	 */
	void add(String file, Object... cells) {
		var columns = new ArrayList<String>();
		var values = new ArrayList<Object>();
		for (int index = 0; index < cells.length; index += 2) {
			columns.add((String) cells[index]);
			values.add(cells[index + 1]);
		}
		this.files.computeIfAbsent(file, (name) -> new InventedFile(name, columns)).add(columns, values);
	}

	/** Writes the clinic into a folder that is empty or not there yet. */
	void writeTo(Path folder) throws IOException {
		Files.createDirectories(folder);
		for (var file : this.files.entrySet()) {
			Files.writeString(folder.resolve(file.getKey()), file.getValue().text());
		}
	}

	/** Writes the clinic as a ZIP file. */
	void writeTo(OutputStream out) throws IOException {
		try (var zip = new ZipOutputStream(out)) {
			for (var file : this.files.entrySet()) {
				zip.putNextEntry(new ZipEntry(file.getKey()));
				var writer = new OutputStreamWriter(zip, StandardCharsets.UTF_8);
				writer.append(file.getValue().text());
				writer.flush();
				zip.closeEntry();
			}
		}
	}

	/** One file, as text from the start, since a large clinic has millions of cells. */
	private static final class InventedFile {

		private final String name;

		private final List<String> columns;

		private final StringBuilder text = new StringBuilder();

		private final CSVPrinter printer;

		InventedFile(String name, List<String> columns) {
			this.name = name;
			this.columns = List.copyOf(columns);
			try {
				this.printer = new CSVPrinter(this.text, CSVFormat.RFC4180.builder().setRecordSeparator("\n").get());
				this.printer.printRecord(columns);
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
		}

		void add(List<String> others, List<Object> values) {
			if (!this.columns.equals(others)) {
				throw new IllegalArgumentException(this.name + " has other columns: " + others);
			}
			try {
				this.printer.printRecord(values);
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
		}

		CharSequence text() {
			return this.text;
		}

	}

}
