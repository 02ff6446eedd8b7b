package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;

import org.jspecify.annotations.Nullable;

/**
 * Writes CSV as RFC 4180 has it: UTF-8 without byte order mark, lines that end in CRLF,
 * quotes only where they are needed. The same cells always give the same bytes.
 */
final class CsvWriter {

	private final Writer out;

	CsvWriter(OutputStream out) {
		this.out = new OutputStreamWriter(out, StandardCharsets.UTF_8);
	}

	/** Writes a record; a missing cell is empty. */
	void write(List<? extends @Nullable String> cells) throws IOException {
		String separator = "";
		for (String cell : cells) {
			this.out.write(separator);
			if (cell != null) {
				write(cell);
			}
			separator = ",";
		}
		this.out.write("\r\n");
	}

	private void write(String cell) throws IOException {
		if (cell.chars().noneMatch((c) -> c == ',' || c == '"' || c == '\r' || c == '\n')) {
			this.out.write(cell);
			return;
		}
		this.out.write('"');
		this.out.write(cell.replace("\"", "\"\""));
		this.out.write('"');
	}

	/** Passes on what was written; the stream stays open. */
	void flush() throws IOException {
		this.out.flush();
	}

}
