package org.seriatim.screening.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** The page of this module that the navigation leads to. */
@Configuration(proxyBeanMethods = false)
class ScreeningNavigation {

	@Bean
	NavigationEntry screeningListEntry() {
		return new NavigationEntry(Section.SETUP, 23, "screening.list.title", "/setup/screening");
	}

}
