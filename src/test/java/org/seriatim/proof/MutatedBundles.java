package org.seriatim.proof;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

import org.seriatim.exchange.SampleBundle;

/**
 * Bundles of one patient, each with one thing changed: as a disk, a spreadsheet, a script
 * or somebody with bad intentions changes it.
 */
final class MutatedBundles {

	/** Once in so many is a file that unpacks to far more than it is. */
	private static final int BOMBS = 100;

	private static final int BOMB_BYTES = 48 << 20;

	private static final List<String> SCRAPS = List.of("", "-1", "1e999", "NaN", "999999999999", "2026-02-30",
			"9999-12-31", "yes", "keloid", "\"", "\"\"\"", "\u0000", "\uFEFF", "\u202E", "'; drop table patient; --",
			"=1+1", "\r", "\n", ",,", "\t", "${7*7}", "x".repeat(20_000));

	private final Random random;

	private int round;

	MutatedBundles(long seed) {
		this.random = new Random(seed);
	}

	/**
	 * One bundle.
	 *
	 * @param how what was changed
	 */
	record Mutated(String how, byte[] zip) {
	}

	Mutated next() throws IOException {
		this.round++;
		var files = files();
		if (this.round % BOMBS == 0) {
			files.put("scars.csv", new byte[BOMB_BYTES]);
			return new Mutated("a file of many zeros", zipped(files, ""));
		}
		return (this.random.nextInt(4) > 0) ? text(files) : archive(files);
	}

	/** A patient, a finding and a time that no other round has. */
	private Map<String, byte[]> files() {
		var number = "M%05d".formatted(this.round);
		var day = LocalDate.of(2027, 1, 1).plusDays(this.round).toString();
		var files = new LinkedHashMap<String, byte[]>();
		SampleBundle.onePatient()
			.files()
			.forEach((name, content) -> files.put(name,
					content.replaceAll("\\bP1\\b", number)
						.replaceAll("\\bF1\\b", "F" + number)
						.replace("2026-04-04T", day + "T")
						.replaceAll("\\ba\\.venn\\b", "p.one")
						.getBytes(StandardCharsets.UTF_8)));
		return files;
	}

	private Mutated text(Map<String, byte[]> files) throws IOException {
		var name = one(List.copyOf(files.keySet()));
		var bytes = files.get(name);
		var text = new String(bytes, StandardCharsets.UTF_8);
		var lines = new ArrayList<>(List.of(text.split("\n")));
		var line = this.random.nextInt(lines.size());
		var how = this.random.nextInt(12);
		byte[] changed = switch (how) {
			case 0 -> flipped(bytes);
			case 1 -> text.substring(0, this.random.nextInt(text.length())).getBytes(StandardCharsets.UTF_8);
			case 2 -> digit(text);
			case 3 -> {
				lines.add(line, lines.get(line));
				yield joined(lines);
			}
			case 4 -> {
				lines.remove(line);
				yield joined(lines);
			}
			case 5 -> text.getBytes(StandardCharsets.UTF_16);
			case 6 -> text.replace("Ash", "\u00C4sh").getBytes(StandardCharsets.ISO_8859_1);
			case 7 -> text.replace("\n", "\r").getBytes(StandardCharsets.UTF_8);
			case 8, 9 -> {
				var cells = lines.get(line).split(",", -1);
				cells[this.random.nextInt(cells.length)] = one(SCRAPS);
				lines.set(line, String.join(",", cells));
				yield joined(lines);
			}
			case 10 -> text.replace(",", ";").getBytes(StandardCharsets.UTF_8);
			default -> {
				var at = this.random.nextInt(text.length());
				yield (text.substring(0, at) + one(SCRAPS) + text.substring(at)).getBytes(StandardCharsets.UTF_8);
			}
		};
		files.put(name, changed);
		return new Mutated("text " + how + " of " + name, zipped(files, ""));
	}

	private Mutated archive(Map<String, byte[]> files) throws IOException {
		var how = this.random.nextInt(8);
		byte[] zip = switch (how) {
			case 0 -> flipped(zipped(files, ""));
			case 1 -> {
				var whole = zipped(files, "");
				yield java.util.Arrays.copyOf(whole, this.random.nextInt(whole.length));
			}
			case 2 -> zipped(files, "../");
			case 3 -> zipped(files, "/");
			case 4 -> {
				files.remove(one(List.copyOf(files.keySet())));
				yield zipped(files, "clinic/");
			}
			case 5 -> {
				// two of one name, which no program writes that one would use
				files.put("scarz.csv", files.get("scars.csv"));
				yield replaced(zipped(files, ""), "scarz.csv", "scars.csv");
			}
			case 6 -> {
				files.put("notes.csv", "a,b\n1,2\n".getBytes(StandardCharsets.UTF_8));
				yield zipped(files, "");
			}
			default -> {
				var noise = new byte[this.random.nextInt(5_000)];
				this.random.nextBytes(noise);
				yield noise;
			}
		};
		return new Mutated("archive " + how, zip);
	}

	private byte[] flipped(byte[] bytes) {
		var changed = bytes.clone();
		changed[this.random.nextInt(changed.length)] ^= (byte) (1 << this.random.nextInt(8));
		return changed;
	}

	private byte[] digit(String text) {
		var bytes = text.getBytes(StandardCharsets.UTF_8);
		for (int tries = 0; tries < 1_000; tries++) {
			var at = this.random.nextInt(bytes.length);
			if (Character.isDigit(bytes[at])) {
				bytes[at] = (byte) ('0' + this.random.nextInt(10));
				break;
			}
		}
		return bytes;
	}

	private static byte[] joined(List<String> lines) {
		return (String.join("\n", lines) + "\n").getBytes(StandardCharsets.UTF_8);
	}

	private static byte[] replaced(byte[] bytes, String from, String to) {
		return new String(bytes, StandardCharsets.ISO_8859_1).replace(from, to).getBytes(StandardCharsets.ISO_8859_1);
	}

	private static byte[] zipped(Map<String, byte[]> files, String under) throws IOException {
		var bytes = new ByteArrayOutputStream();
		try (var zip = new ZipOutputStream(bytes)) {
			for (var file : files.entrySet()) {
				zip.putNextEntry(new ZipEntry(under + file.getKey()));
				zip.write(file.getValue());
			}
		}
		return bytes.toByteArray();
	}

	private <T> T one(List<T> of) {
		return of.get(this.random.nextInt(of.size()));
	}

}
