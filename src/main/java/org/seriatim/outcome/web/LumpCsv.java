package org.seriatim.outcome.web;

import java.io.IOException;
import java.io.Writer;
import java.math.BigDecimal;
import java.util.List;
import java.util.function.UnaryOperator;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.seriatim.outcome.domain.LumpGroup;
import org.seriatim.statistics.Mass;

/** The curves of the lumps page as CSV: unrounded, empty where infinite. */
final class LumpCsv {

	private static final CSVFormat FORMAT = CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();

	private LumpCsv() {
	}

	static void writeCurves(List<LumpGroup> groups, UnaryOperator<String> names, Writer out) throws IOException {
		try (var csv = new CSVPrinter(out, FORMAT)) {
			csv.printRecord("group", "left_day", "right_day", "mass");
			for (LumpGroup group : groups) {
				for (Mass mass : group.curve().masses()) {
					csv.printRecord(names.apply(group.value()), number(mass.left()), number(mass.right()),
							number(mass.mass()));
				}
			}
		}
	}

	private static String number(double value) {
		return Double.isInfinite(value) ? "" : BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
	}

}
