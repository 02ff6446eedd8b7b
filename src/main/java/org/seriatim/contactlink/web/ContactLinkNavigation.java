package org.seriatim.contactlink.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** The pages of this module that the navigation leads to. */
@Configuration(proxyBeanMethods = false)
class ContactLinkNavigation {

	@Bean
	NavigationEntry outboxEntry() {
		return new NavigationEntry(Section.FOLLOW_UP, 60, "contactlink.outbox.title", "/outbox");
	}

	@Bean
	NavigationEntry contactLinksEntry() {
		return new NavigationEntry(Section.SETUP, 23, "contactlink.settings.title", "/setup/contact-links");
	}

}
