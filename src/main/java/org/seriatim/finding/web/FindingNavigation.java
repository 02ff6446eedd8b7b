package org.seriatim.finding.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class FindingNavigation {

	@Bean
	NavigationEntry emergenciesEntry() {
		return new NavigationEntry(Section.FOLLOW_UP, 5, "finding.emergencies.title", "/emergencies");
	}

}
