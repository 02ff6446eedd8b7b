package org.seriatim.exchange.domain;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

/** RFC 4180, with lines counted as an editor counts them. */
class CsvReaderTests {

	@Test
	void readsTheExamplesOfTheStandard() throws IOException {
		assertThat(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).containsExactly(List.of("aaa", "bbb", "ccc"),
				List.of("zzz", "yyy", "xxx"));
		assertThat(cells("aaa,bbb,ccc\r\nzzz,yyy,xxx")).containsExactly(List.of("aaa", "bbb", "ccc"),
				List.of("zzz", "yyy", "xxx"));
		assertThat(cells("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx")).containsExactly(List.of("aaa", "bbb", "ccc"),
				List.of("zzz", "yyy", "xxx"));
		assertThat(cells("\"aaa\",\"b \r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"))
			.containsExactly(List.of("aaa", "b \r\nbb", "ccc"), List.of("zzz", "yyy", "xxx"));
		assertThat(cells("\"aaa\",\"b\"\"bb\",\"ccc\"")).containsExactly(List.of("aaa", "b\"bb", "ccc"));
	}

	@Test
	void keepsSpacesAndEmptyCells() throws IOException {
		assertThat(cells(" a , ,\n,\n\"\",\"\"\n")).containsExactly(List.of(" a ", " ", ""), List.of("", ""),
				List.of("", ""));
	}

	@Test
	void knowsThreeLineEnds() throws IOException {
		assertThat(records("a\nb\r\nc\rd")).extracting(CsvRecord::line).containsExactly(1, 2, 3, 4);
	}

	@Test
	void countsLinesInsideQuotes() throws IOException {
		assertThat(records("a,\"1\n2\r\n3\r4\"\nb,5\n")).extracting(CsvRecord::line).containsExactly(1, 5);
	}

	@Test
	void skipsAByteOrderMark() throws IOException {
		assertThat(cells("\uFEFFa,b\n")).containsExactly(List.of("a", "b"));
		assertThat(cells("\uFEFF")).isEmpty();
		assertThat(cells("")).isEmpty();
	}

	@Test
	void findsTheCellThatIsNotUtf8() throws IOException {
		List<CsvRecord> records = records("a,ä,b\nc,d,é\n".getBytes(StandardCharsets.ISO_8859_1));
		assertThat(records).flatExtracting(CsvRecord::cells)
			.extracting(CsvCell::text, CsvCell::malformed)
			.containsExactly(tuple("a", false), tuple("\uFFFD", true), tuple("b", false), tuple("c", false),
					tuple("d", false), tuple("\uFFFD", true));
	}

	@Test
	void refusesBytesThatOnlyLookLikeUtf8() throws IOException {
		byte[] overlong = { 'a', ',', (byte) 0xC0, (byte) 0xAF, '\n' };
		byte[] surrogate = { 'a', ',', (byte) 0xED, (byte) 0xA0, (byte) 0x80, '\n' };
		byte[] cut = { 'a', ',', (byte) 0xE2, (byte) 0x82 };
		for (byte[] bytes : List.of(overlong, surrogate, cut)) {
			assertThat(records(bytes).get(0).cells().get(1).malformed()).isTrue();
		}
	}

	@Test
	void goesOnAfterALineThatCannotBeRead() throws IOException {
		assertThat(records("a\nb\"c,\"d\ne\n\"f\"g\nh\n"))
			.extracting(CsvRecord::line, CsvRecord::fault, (record) -> record.cells().size())
			.containsExactly(tuple(1, null, 1), tuple(2, CsvFault.STRAY_QUOTE, 0), tuple(3, null, 1),
					tuple(4, CsvFault.TEXT_AFTER_QUOTE, 0), tuple(5, null, 1));
	}

	@Test
	void blamesTheLineOnWhichAQuoteBeginsThatNeverEnds() throws IOException {
		assertThat(records("a,\"b\nc,d\ne,f\n")).extracting(CsvRecord::line, CsvRecord::fault)
			.containsExactly(tuple(1, CsvFault.UNCLOSED_QUOTE), tuple(2, null), tuple(3, null));
	}

	@Test
	void givesUpOnALineWithoutEnd() throws IOException {
		byte[] endless = new byte[5 * CsvReader.LONGEST_RECORD];
		Arrays.fill(endless, (byte) 'x');
		endless[endless.length - 2] = '\n';
		assertThat(records(endless)).extracting(CsvRecord::line, CsvRecord::fault)
			.containsExactly(tuple(1, CsvFault.TOO_LONG), tuple(2, null));
		Arrays.fill(endless, (byte) ',');
		assertThat(records(endless)).extracting(CsvRecord::fault).containsExactly(CsvFault.TOO_LONG);
		endless[0] = '"';
		assertThat(records(endless)).extracting(CsvRecord::fault).containsExactly(CsvFault.UNCLOSED_QUOTE);
	}

	@Test
	void readsBackWhateverTheWriterWrites() throws IOException {
		Random random = new Random(4180);
		String alphabet = "ab ,\"\r\nä\uFEFF€\u0000\t;";
		for (int round = 0; round < 300; round++) {
			List<List<String>> rows = new ArrayList<>();
			for (int i = 0; i < 1 + random.nextInt(5); i++) {
				List<String> cells = new ArrayList<>();
				for (int j = 0; j < 2 + random.nextInt(3); j++) {
					StringBuilder cell = new StringBuilder();
					for (int k = random.nextInt(6); k > 0; k--) {
						cell.append(alphabet.charAt(random.nextInt(alphabet.length())));
					}
					cells.add(cell.toString());
				}
				rows.add(cells);
			}
			// a byte order mark at the beginning of a file is none of its first cell
			rows.get(0).set(0, "header");
			ByteArrayOutputStream out = new ByteArrayOutputStream();
			CsvWriter writer = new CsvWriter(out);
			for (List<String> row : rows) {
				writer.write(row);
			}
			writer.flush();
			assertThat(cells(new Trickle(out.toByteArray(), random))).as("round %d of seed 4180", round)
				.containsExactlyElementsOf(rows);
		}
	}

	private static List<List<String>> cells(String text) throws IOException {
		return cells(new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)));
	}

	private static List<List<String>> cells(InputStream in) throws IOException {
		return records(in).stream().map((record) -> record.cells().stream().map(CsvCell::text).toList()).toList();
	}

	private static List<CsvRecord> records(String text) throws IOException {
		return records(text.getBytes(StandardCharsets.UTF_8));
	}

	private static List<CsvRecord> records(byte[] bytes) throws IOException {
		return records(new ByteArrayInputStream(bytes));
	}

	private static List<CsvRecord> records(InputStream in) throws IOException {
		CsvReader reader = new CsvReader(in);
		List<CsvRecord> records = new ArrayList<>();
		for (CsvRecord record = reader.next(); record != null; record = reader.next()) {
			records.add(record);
		}
		return records;
	}

	/** Gives a few bytes at a time, as a network does. */
	private static final class Trickle extends ByteArrayInputStream {

		private final Random random;

		Trickle(byte[] bytes, Random random) {
			super(bytes);
			this.random = random;
		}

		@Override
		public synchronized int read(byte[] bytes, int offset, int length) {
			return super.read(bytes, offset, Math.min(length, 1 + this.random.nextInt(3)));
		}

	}

}
