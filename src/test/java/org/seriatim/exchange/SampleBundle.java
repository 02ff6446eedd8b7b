package org.seriatim.exchange;

import java.io.IOException;
import java.io.OutputStream;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;

/**
 * A copy of the invented clinic of the test resources that a test may damage, as text by
 * file.
 */
public final class SampleBundle {

	public static final Path FOLDER = Path.of("src/test/resources/sample-clinic");

	private final Map<String, String> files = new LinkedHashMap<>();

	private final Map<String, Charset> charsets = new HashMap<>();

	public static SampleBundle whole() {
		SampleBundle bundle = new SampleBundle();
		try (DirectoryStream<Path> paths = Files.newDirectoryStream(FOLDER, "*.csv")) {
			for (Path path : paths) {
				bundle.files.put(path.getFileName().toString(), Files.readString(path).replace("\r\n", "\n"));
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return bundle;
	}

	/** The clinic several times over, each time with other patients. */
	public static SampleBundle times(int copies) {
		SampleBundle bundle = whole();
		bundle.files.replaceAll((name, text) -> {
			String[] lines = text.split("\n");
			StringBuilder all = new StringBuilder(lines[0]).append('\n');
			for (int copy = 0; copy < copies; copy++) {
				for (int i = 1; i < lines.length; i++) {
					String line = lines[i].replaceAll("\\b([KF])14-", "$1" + copy + "-");
					// nobody has two appointments at once
					all.append(name.equals("appointments.csv") ? line.replaceFirst(",", "," + copy + ".") : line)
						.append('\n');
				}
			}
			return all.toString();
		});
		return bundle;
	}

	/** Every file with its header and no rows. */
	public static SampleBundle empty() {
		SampleBundle bundle = whole();
		bundle.files.replaceAll((name, text) -> text.substring(0, text.indexOf('\n') + 1));
		return bundle;
	}

	/**
	 * One patient with one of everything, small enough to see what a damage does. Line 2
	 * of each file is the row; sessions have a second one on line 3.
	 */
	public static SampleBundle onePatient() {
		return empty().row("patients.csv", "P1,Ash,Ida,1980-02-03,female,+00 1,i@example.org,3,medium,oily")
			.row("series.csv", "P1,1,scars,3,open,,")
			.row("scars.csv", "P1,S1,chin,boxcar,0.5,0.8,2026-01-05")
			.row("scar_assessments.csv", "P1,S1,2026-01-05,a.venn,0,4.5,3.0,0.40,gauge,shallow,2,")
			.row("scar_counts.csv", "P1,chin,boxcar,2026-01-05,a.venn,3")
			.row("pore_assessments.csv", "P1,nose,2026-01-05,a.venn,3,120.5")
			.row("global_assessments.csv", "P1,2026-01-05,a.venn,gais,practitioner,1")
			.row("sessions.csv", "P1,1,1,2026-01-10,a.venn,61.5,rf_after,1.5,40,no,yes,3,yes")
			.row("sessions.csv", "P1,2,1,2026-02-21,a.venn,61.5,none,,40,no,yes,3,yes")
			.row("preparations.csv", "P1,1,1,biostimulator A,L1,2026-12-01,50.0,3,2.00,0.00,2,0.50,0.110")
			.row("injections.csv", "P1,1,1,1,chin,S1,scar,mid_dermis,4,0.220,30,4,yes,no,,yes,,2")
			.row("findings.csv", "F1,P1,1,lump,chin,S1,2026-01-12,1,no,,,")
			.row("finding_observations.csv", "F1,2026-01-12,yes,4.0,patient,link")
			.row("contacts.csv", "P1,1,2026-01-13,phone,reached,yes,2,")
			.row("appointments.csv", "P1,a.venn,2026-04-04T09:00:00+02:00,2026-04-04T09:45:00+02:00,treatment,booked");
	}

	public SampleBundle row(String file, String row) {
		return edit(file, (text) -> text + row + "\n");
	}

	public SampleBundle edit(String file, UnaryOperator<String> edit) {
		this.files.computeIfPresent(file, (name, text) -> edit.apply(text));
		return this;
	}

	/** Replaces the only occurrence of a text in a file. */
	public SampleBundle replace(String file, String target, String replacement) {
		return edit(file, (text) -> {
			int at = text.indexOf(target);
			if (at < 0 || text.indexOf(target, at + 1) >= 0) {
				throw new IllegalArgumentException("not once in " + file + ": " + target);
			}
			return text.replace(target, replacement);
		});
	}

	/** Sets a cell, of a file without quotes. */
	public SampleBundle cell(String file, int line, String column, String value) {
		return edit(file, (text) -> {
			String[] lines = text.split("\n", -1);
			int index = List.of(lines[0].split(",")).indexOf(column);
			String[] cells = lines[line - 1].split(",", -1);
			cells[index] = value;
			lines[line - 1] = String.join(",", cells);
			return String.join("\n", lines);
		});
	}

	/** Writes the file in an encoding that is not UTF-8. */
	public SampleBundle encode(String file, Charset charset) {
		this.charsets.put(file, charset);
		return this;
	}

	public SampleBundle put(String file, String text) {
		this.files.put(file, text);
		return this;
	}

	public SampleBundle remove(String file) {
		this.files.remove(file);
		return this;
	}

	public Map<String, String> files() {
		return this.files;
	}

	public Path writeTo(Path folder) {
		try {
			Files.createDirectories(folder);
			for (Map.Entry<String, String> file : this.files.entrySet()) {
				Files.writeString(folder.resolve(file.getKey()), file.getValue(),
						this.charsets.getOrDefault(file.getKey(), StandardCharsets.UTF_8));
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return folder;
	}

	/** Writes a ZIP file with the files under a path. */
	public Path zipTo(Path zip, String under) {
		try (OutputStream out = Files.newOutputStream(zip); ZipOutputStream entries = new ZipOutputStream(out)) {
			for (Map.Entry<String, String> file : this.files.entrySet()) {
				entries.putNextEntry(new ZipEntry(under + file.getKey()));
				entries.write(file.getValue().getBytes(StandardCharsets.UTF_8));
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return zip;
	}

	/** The rows of a file as another reader of CSV sees them: values by column. */
	public static List<Map<String, String>> rows(Path file) {
		CSVFormat format = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();
		try (Reader reader = Files.newBufferedReader(file)) {
			List<Map<String, String>> rows = new ArrayList<>();
			for (CSVRecord record : format.parse(reader)) {
				rows.add(record.toMap());
			}
			return rows;
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
