package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * Reads CSV as RFC 4180 has it, from bytes, one record at a time in bounded memory.
 * <p>
 * It works on bytes for the sake of its reports: lines are counted as they stand in the
 * file, inside quotes too, and a cell that is not UTF-8 is found out by itself. Commas,
 * quotes and line ends are single bytes that occur within no other character of UTF-8, so
 * that cells can be told apart before they are decoded.
 * <p>
 * After a record that cannot be read it goes on with the line after the one on which the
 * record began, so that one wrong quote does not hide the lines that follow.
 */
final class CsvReader {

	static final int LONGEST_RECORD = 1_000_000;

	private static final int MOST_CELLS = 1_000;

	private static final int EOF = -1;

	private final InputStream in;

	private final CharsetDecoder decoder = StandardCharsets.UTF_8.newDecoder()
		.onMalformedInput(CodingErrorAction.REPORT)
		.onUnmappableCharacter(CodingErrorAction.REPORT);

	private byte[] window = new byte[1 << 16];

	private int limit;

	private int start;

	private boolean ended;

	private int line = 1;

	/** What the cell that is being read holds so far, without its quotes. */
	private byte[] cell = new byte[1 << 10];

	private int length;

	CsvReader(InputStream in) throws IOException {
		this.in = in;
		if (at(0) == 0xEF && at(1) == 0xBB && at(2) == 0xBF) {
			this.start = 3;
		}
	}

	/** Whether the file begins like UTF-16, in which spreadsheets save "Unicode text". */
	boolean looksLikeUtf16() throws IOException {
		int first = at(this.start);
		int second = at(this.start + 1);
		return (first == 0xFF && second == 0xFE) || (first == 0xFE && second == 0xFF) || first == 0 || second == 0;
	}

	/** The next record, or nothing at the end of the file. */
	@Nullable CsvRecord next() throws IOException {
		if (at(this.start) == EOF) {
			return null;
		}
		List<CsvCell> cells = new ArrayList<>();
		int position = 0;
		int lines = 0;
		while (true) {
			if (cells.size() == MOST_CELLS) {
				return fault(CsvFault.TOO_LONG);
			}
			this.length = 0;
			boolean quoted = peek(position) == '"';
			if (quoted) {
				position++;
				while (true) {
					int next = peek(position);
					if (next == EOF || position > LONGEST_RECORD) {
						return fault(CsvFault.UNCLOSED_QUOTE);
					}
					if (next == '"') {
						if (peek(position + 1) != '"') {
							break;
						}
						position++;
					}
					else if (next == '\n' || (next == '\r' && peek(position + 1) != '\n')) {
						lines++;
					}
					append(next);
					position++;
				}
				position++;
			}
			int next = peek(position);
			while (next != ',' && next != '\n' && next != '\r' && next != EOF) {
				if (quoted) {
					return fault(CsvFault.TEXT_AFTER_QUOTE);
				}
				if (next == '"') {
					return fault(CsvFault.STRAY_QUOTE);
				}
				if (position > LONGEST_RECORD) {
					return fault(CsvFault.TOO_LONG);
				}
				append(next);
				next = peek(++position);
			}
			cells.add(decoded());
			position++;
			if (next == ',') {
				continue;
			}
			if (next == '\r' && peek(position) == '\n') {
				position++;
			}
			CsvRecord record = new CsvRecord(this.line, cells, null);
			this.start = (next == EOF) ? this.limit : this.start + position;
			this.line += lines + 1;
			return record;
		}
	}

	private CsvRecord fault(CsvFault fault) throws IOException {
		CsvRecord record = new CsvRecord(this.line, List.of(), fault);
		skipLine();
		return record;
	}

	private void skipLine() throws IOException {
		int next = peek(0);
		while (next != '\n' && next != '\r' && next != EOF) {
			this.start++;
			next = peek(0);
		}
		if (next != EOF) {
			this.start += (next == '\r' && peek(1) == '\n') ? 2 : 1;
		}
		this.line++;
	}

	private CsvCell decoded() {
		for (int i = 0; i < this.length; i++) {
			if (this.cell[i] < 0) {
				return decodedWithCare();
			}
		}
		return new CsvCell(new String(this.cell, 0, this.length, StandardCharsets.US_ASCII), false);
	}

	private CsvCell decodedWithCare() {
		try {
			return new CsvCell(this.decoder.decode(ByteBuffer.wrap(this.cell, 0, this.length)).toString(), false);
		}
		catch (CharacterCodingException ex) {
			return new CsvCell(new String(this.cell, 0, this.length, StandardCharsets.UTF_8), true);
		}
	}

	private void append(int next) {
		if (this.length == this.cell.length) {
			this.cell = Arrays.copyOf(this.cell, 2 * this.length);
		}
		this.cell[this.length++] = (byte) next;
	}

	/** The byte at a distance from the beginning of the record, without moving on. */
	private int peek(int distance) throws IOException {
		int index = this.start + distance;
		return (index < this.limit) ? this.window[index] & 0xFF : at(index);
	}

	private int at(int index) throws IOException {
		int wanted = index;
		while (wanted >= this.limit && !this.ended) {
			if (this.limit == this.window.length) {
				if (this.start > this.window.length / 2) {
					System.arraycopy(this.window, this.start, this.window, 0, this.limit - this.start);
					this.limit -= this.start;
					wanted -= this.start;
					this.start = 0;
				}
				else {
					this.window = Arrays.copyOf(this.window, 2 * this.window.length);
				}
			}
			int read = this.in.read(this.window, this.limit, this.window.length - this.limit);
			if (read < 0) {
				this.ended = true;
			}
			else {
				this.limit += read;
			}
		}
		return (wanted < this.limit) ? this.window[wanted] & 0xFF : EOF;
	}

}
