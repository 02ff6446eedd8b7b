package org.seriatim.outcome.web;

import java.io.IOException;
import java.io.StringReader;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.assertj.core.data.Offset;
import tools.jackson.databind.JsonNode;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.support.TestStaff;

import static org.assertj.core.api.Assertions.assertThat;

/** Loads the sample clinic and reads the files of the outcome pages. */
final class OutcomeFiles {

	private OutcomeFiles() {
	}

	static void loadTheSampleClinicOnce(JdbcClient database, BundleImport records) {
		if (database.sql("select count(*) from patient").query(Integer.class).single() == 0) {
			records.take(Path.of("src/test/resources/sample-clinic"), false, ImportProgress.UNWATCHED);
		}
	}

	static List<CSVRecord> read(MockMvcTester pages, TestStaff staff, String address) {
		var answer = pages.get().uri(address).with(staff.as(Role.CLINIC_LEAD)).exchange();
		assertThat(answer).hasStatusOk().hasContentTypeCompatibleWith("text/csv");
		try (var parsed = CSVFormat.RFC4180.builder()
			.setHeader()
			.setSkipHeaderRecord(true)
			.get()
			.parse(new StringReader(answer.getResponse().getContentAsString()))) {
			return new ArrayList<>(parsed.getRecords());
		}
		catch (IOException ex) {
			throw new AssertionError(ex);
		}
	}

	/** Within 1e-6 of the expected value, relative to it; 0 exactly. */
	static void assertSame(String cell, JsonNode expected) {
		assertThat(Double.parseDouble(cell)).isCloseTo(expected.asDouble(),
				Offset.offset(1e-6 * Math.abs(expected.asDouble())));
	}

}
