package org.seriatim.outcome.web;

import java.io.IOException;
import java.io.Writer;
import java.math.BigDecimal;
import java.util.List;
import java.util.function.UnaryOperator;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.seriatim.outcome.domain.LumpDurations;
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

	/**
	 * The share still present on each day that is drawn, as far as the data leave it
	 * open, with its 95 % limits, which are empty where they cannot be told.
	 */
	static void writeDays(List<LumpGroup> groups, UnaryOperator<String> names, Writer out) throws IOException {
		try (var csv = new CSVPrinter(out, FORMAT)) {
			csv.printRecord("group", "day", "present_low", "present_high", "limit_low", "limit_high");
			for (LumpGroup group : groups) {
				var limits = LumpsPage.limits(group);
				for (int day = 0; day <= LumpDurations.LAST_DRAWN_DAY; day++) {
					var present = group.presentOn(day);
					var ofDay = (limits != null) ? limits.present().get(day) : null;
					csv.printRecord(names.apply(group.value()), day, number(present.low()), number(present.high()),
							(ofDay != null) ? number(ofDay.low()) : "", (ofDay != null) ? number(ofDay.high()) : "");
				}
			}
		}
	}

	private static String number(double value) {
		return Double.isInfinite(value) ? "" : BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
	}

}
