package org.seriatim.outcome.web;

import java.io.IOException;
import java.io.Writer;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.seriatim.outcome.domain.LumpDurations;
import org.seriatim.outcome.domain.LumpGroup;
import org.seriatim.statistics.Bounds;
import org.seriatim.statistics.Mass;

/** The figures of the lumps page as CSV: unrounded, empty where infinite. */
final class LumpCsv {

	private static final CSVFormat FORMAT = CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();

	private LumpCsv() {
	}

	static void writeGroups(List<LumpGroup> groups, UnaryOperator<String> names, Writer out) throws IOException {
		try (var csv = new CSVPrinter(out, FORMAT)) {
			var head = new ArrayList<Object>(List.of("group", "patients", "lumps", "right_censored", "recurrent",
					"median_left_day", "median_right_day"));
			for (int day : LumpDurations.DAYS) {
				head.add("present_" + day + "_low");
				head.add("present_" + day + "_high");
			}
			csv.printRecord(head);
			for (LumpGroup group : groups) {
				var row = new ArrayList<Object>(List.of(names.apply(group.value()), group.patients(), group.lumps(),
						group.rightCensored(), group.recurrent()));
				addBounds(row, group.median());
				for (int day : LumpDurations.DAYS) {
					addBounds(row, group.presentOn(day));
				}
				csv.printRecord(row);
			}
		}
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

	private static void addBounds(List<Object> row, Bounds bounds) {
		row.add(number(bounds.low()));
		row.add(number(bounds.high()));
	}

	private static String number(double value) {
		return Double.isInfinite(value) ? "" : BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
	}

}
