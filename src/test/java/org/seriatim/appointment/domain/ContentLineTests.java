package org.seriatim.appointment.domain;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

/** Check values of {@code clinical.md} 13, with RFC 5545. */
class ContentLineTests {

	/** C131, RFC 5545, section 3.1: the break is not counted, the space after it is. */
	@Test
	void foldsALineOfAHundredOctets() {
		var folded = ContentLine.folded("DESCRIPTION:" + "x".repeat(88));
		assertThat(Arrays.stream(folded.split("\r\n")).map((line) -> line.getBytes(StandardCharsets.UTF_8).length))
			.containsExactly(75, 26);
	}

	/** C132, RFC 5545, section 3.3.11. */
	@Test
	void escapesATextThatMeansSomethingElse() {
		assertThat(ContentLine.escaped("Room 2; bring card, please\\now"))
			.isEqualTo("Room 2\\; bring card\\, please\\\\now");
		assertThat(ContentLine.escaped("one\r\ntwo\nthree")).isEqualTo("one\\ntwo\\nthree");
	}

	@Test
	void leavesALineOf75OctetsWhole() {
		assertThat(ContentLine.folded("x".repeat(75))).isEqualTo("x".repeat(75));
		assertThat(ContentLine.folded("x".repeat(76))).isEqualTo("x".repeat(75) + "\r\n x");
	}

	/** Octets count, not characters, and none is cut in two. */
	@Test
	void foldsBetweenCharactersOfSeveralOctets() {
		var line = "SUMMARY:" + "ä".repeat(20) + "😀".repeat(20);
		var folded = ContentLine.folded(line);
		assertThat(folded.split("\r\n")).allSatisfy((part) -> {
			assertThat(part.getBytes(StandardCharsets.UTF_8).length).isLessThanOrEqualTo(75);
			assertThat(new String(part.getBytes(StandardCharsets.UTF_8), StandardCharsets.UTF_8)).isEqualTo(part)
				.doesNotContain("\uFFFD");
		});
		assertThat(folded.replace("\r\n ", "")).isEqualTo(line);
	}

}
