package org.seriatim.exchange.web;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

import org.seriatim.exchange.Problem;
import org.seriatim.exchange.ProblemReport;
import org.seriatim.shell.ReportCell;

/**
 * The problems of a bundle as a table for people: with a byte order mark, since
 * spreadsheets take a CSV file without one for some other encoding.
 */
final class ProblemCsv {

	private static final CSVFormat FORMAT = CSVFormat.RFC4180.builder()
		.setHeader("file", "line", "column", "column_name", "found", "expected")
		.get();

	private ProblemCsv() {
	}

	static void write(ProblemReport problems, OutputStream out) throws IOException {
		Writer writer = new OutputStreamWriter(out, StandardCharsets.UTF_8);
		writer.write('\uFEFF');
		CSVPrinter csv = new CSVPrinter(writer, FORMAT);
		try {
			problems.forEach((problem) -> write(problem, csv));
		}
		catch (UncheckedIOException ex) {
			throw ex.getCause();
		}
		csv.flush();
	}

	private static void write(Problem problem, CSVPrinter csv) {
		try {
			csv.printRecord(ReportCell.text(problem.file()), problem.line(), problem.columnNumber(), problem.column(),
					ReportCell.text(problem.found()), ReportCell.text(problem.expected()));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

}
