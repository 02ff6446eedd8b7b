package org.seriatim.exchange.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;

import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class ExchangePages {

	@Bean
	NavigationEntry importEntry() {
		return new NavigationEntry(Section.SETUP, 30, "exchange.import.title", "/setup/import");
	}

	@Bean
	NavigationEntry exportEntry() {
		return new NavigationEntry(Section.SETUP, 40, "exchange.export.title", "/setup/export");
	}

}
