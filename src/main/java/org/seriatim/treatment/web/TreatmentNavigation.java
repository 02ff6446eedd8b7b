package org.seriatim.treatment.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** The pages of this module that the navigation leads to. */
@Configuration(proxyBeanMethods = false)
class TreatmentNavigation {

	@Bean
	NavigationEntry draftsEntry() {
		return new NavigationEntry(Section.PATIENTS, 30, "treatment.drafts.title", "/drafts");
	}

	@Bean
	NavigationEntry productsEntry() {
		return new NavigationEntry(Section.SETUP, 25, "treatment.catalogue.title", "/setup/products");
	}

	@Bean
	NavigationEntry usualPracticeEntry() {
		return new NavigationEntry(Section.SETUP, 22, "treatment.usual.title", "/setup/usual-practice");
	}

	@Bean
	NavigationEntry protocolEntry() {
		return new NavigationEntry(Section.SETUP, 20, "treatment.protocol.title", "/setup/protocol");
	}

}
