package org.seriatim.outcome.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class OutcomePages {

	@Bean
	NavigationEntry lumpsEntry() {
		return new NavigationEntry(Section.OUTCOMES, 10, "outcome.lumps.title", "/outcomes/lumps");
	}

}
