package org.seriatim.access.domain;

import org.junit.jupiter.api.Test;
import org.seriatim.support.PageTest;
import org.springframework.beans.factory.annotation.Autowired;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
class SetupCodeTests {

	@Autowired
	private ManageAccounts accounts;

	@Autowired
	private Guesses guesses;

	@Test
	void whatOneServiceShowsAnotherOneTakes() {
		var key = new ServiceKey(new KeySettings(null, "dGhlIGtleSBvZiB0aGUgdGVzdHMsIDMyIGJ5dGVzISE="));
		var shown = new SetupCode(this.accounts, this.guesses, key).code();
		assertThat(shown).matches("[1-9]\\d{3}(-[1-9]\\d{3}){3}");
		assertThat(new SetupCode(this.accounts, this.guesses, key).answer(shown, "192.0.2.1").right()).isTrue();
		var elsewhere = new ServiceKey(new KeySettings(null, "YW5vdGhlciBrZXkgb2YgdGhlIHRlc3RzLCAzMiBieXQ="));
		assertThat(new SetupCode(this.accounts, this.guesses, elsewhere).answer(shown, "192.0.2.2").right()).isFalse();
	}

}
