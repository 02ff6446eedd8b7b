package org.seriatim.outcome.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

import jakarta.servlet.http.HttpServletResponse;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;

/** Answers with a table as CSV, or with what is wrong with the question. */
final class FigureFile {

	private static final CSVFormat FORMAT = CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();

	private FigureFile() {
	}

	static void write(Figures figures, HttpServletResponse response) throws IOException {
		response.setContentType(new MediaType("text", "csv", StandardCharsets.UTF_8).toString());
		try (var csv = new CSVPrinter(response.getWriter(), FORMAT)) {
			csv.printRecord(figures.columns().stream().map(Figures.Column::word).toList());
			for (List<String> row : figures.file()) {
				csv.printRecord(row);
			}
		}
	}

	/** Says in plain text which parameter to mend, and how. */
	static void refuse(FilterBar bar, HttpServletResponse response) throws IOException {
		response.setStatus(HttpStatus.BAD_REQUEST.value());
		response.setContentType(new MediaType("text", "plain", StandardCharsets.UTF_8).toString());
		for (FilterBar.Field field : bar.fields()) {
			if (field.error() != null) {
				response.getWriter().println(field.name() + ": " + field.error());
			}
		}
	}

}
