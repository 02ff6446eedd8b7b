package org.seriatim.shell.web;

import java.util.Map;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

/** A row of one version that nobody chose is not sent on; the rows after it move up. */
class LeftOutRowsTests {

	@Test
	void leaveNoGap() {
		assertThat(LeftOutRows.without(Map.of("_row.0", values("injections[1]"), "_row.1", values(""),
				"injections[0].region", values("nose"), "injections[1].region", values("chin"), "injections[2].region",
				values("neck"), "preparations[1].lot", values("L1"), "reason", values("slip"))))
			.hasSize(6)
			.containsKeys("injections[0].region", "preparations[1].lot", "reason")
			.extractingByKey("injections[1].region")
			.isEqualTo(values("neck"));
	}

	@Test
	void takeNothingElseOut() {
		var sent = Map.of("_row.0", values("reason"), "reason", values("slip"), "rows[3", values("x"));
		assertThat(LeftOutRows.without(sent)).containsExactlyInAnyOrderEntriesOf(sent);
	}

	private static String[] values(String... values) {
		return values;
	}

}
