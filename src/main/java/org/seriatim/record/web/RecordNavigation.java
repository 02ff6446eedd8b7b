package org.seriatim.record.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class RecordNavigation {

	@Bean
	NavigationEntry repeatRatingsEntry() {
		return new NavigationEntry(Section.PATIENTS, 40, "record.repeats.title", "/repeat-ratings");
	}

}
