package org.seriatim.privacy.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class PrivacyPages {

	@Bean
	NavigationEntry retentionEntry() {
		return new NavigationEntry(Section.SETUP, 45, "privacy.retention.title", "/setup/retention");
	}

	@Bean
	NavigationEntry auditEntry() {
		return new NavigationEntry(Section.SETUP, 47, "privacy.audit.title", "/setup/audit");
	}

	@Bean
	NavigationEntry erasuresEntry() {
		return new NavigationEntry(Section.SETUP, 50, "privacy.erasures.title", "/setup/erasures");
	}

}
