package org.seriatim.patient.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class PatientPages {

	@Bean
	NavigationEntry patientsEntry() {
		return new NavigationEntry(Section.PATIENTS, 10, "patient.list.title", "/patients");
	}

}
