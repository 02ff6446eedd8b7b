package org.seriatim.followup.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;

import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class FollowUpNavigation {

	@Bean
	NavigationEntry followUpEntry() {
		return new NavigationEntry(Section.FOLLOW_UP, 1, "followup.list.title", "/follow-up");
	}

}
