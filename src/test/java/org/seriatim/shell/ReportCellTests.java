package org.seriatim.shell;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import static org.assertj.core.api.Assertions.assertThat;

class ReportCellTests {

	@ParameterizedTest
	@ValueSource(strings = { "=1+1", "+49", "-1", "@name", "\tx", "\rx" })
	void keepsASpreadsheetFromCalculating(String text) {
		assertThat(ReportCell.text(text)).isEqualTo("'" + text);
	}

	@Test
	void leavesOtherTextAsItIs() {
		assertThat(ReportCell.text("K14-00001")).isEqualTo("K14-00001");
		assertThat(ReportCell.text("")).isEmpty();
	}

}
