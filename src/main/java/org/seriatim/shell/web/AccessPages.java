package org.seriatim.shell.web;

import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;

/**
 * Leads to the pages of {@code access}, which stands before the shell and cannot say so
 * itself.
 */
@Configuration(proxyBeanMethods = false)
class AccessPages {

	@Bean
	NavigationEntry accountsEntry() {
		return new NavigationEntry(Section.SETUP, 50, "access.accounts.title", "/setup/accounts");
	}

	@Bean
	NavigationEntry emergencyReviewEntry() {
		return new NavigationEntry(Section.SETUP, 60, "access.emergency.review.title", "/setup/emergency-access");
	}

	@Bean
	NavigationEntry emergencyEntry() {
		return new NavigationEntry(Section.SETUP, 70, "access.emergency.title", "/emergency-access");
	}

	@Bean
	NavigationEntry accountEntry() {
		return new NavigationEntry(Section.SETUP, 80, "access.account.title", "/account");
	}

	@Bean
	NavigationEntry tokensEntry() {
		return new NavigationEntry(Section.SETUP, 90, "access.tokens.title", "/tokens");
	}

}
