package org.seriatim;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;

import org.springframework.boot.test.system.CapturedOutput;
import org.springframework.boot.test.system.OutputCaptureExtension;
import org.springframework.context.annotation.Bean;

import static org.assertj.core.api.Assertions.assertThat;

@ExtendWith(OutputCaptureExtension.class)
class CommandLineEntryTests {

	@Test
	void aCommandThatCannotStartIsRefusedWithItsOwnReasonOnly(CapturedOutput output) {
		assertThat(new CommandLineEntry(CannotStart.class).run("token", "--user", "somebody")).isEqualTo(1);
		assertThat(output).contains("the records are elsewhere").doesNotContain("InitializationException");
	}

	static class CannotStart {

		@Bean
		Object records() {
			throw new IllegalStateException("the records are elsewhere");
		}

	}

}
