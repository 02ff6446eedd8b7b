package org.seriatim.outcome.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class OutcomePages {

	@Bean
	NavigationEntry improvementEntry() {
		return new NavigationEntry(Section.OUTCOMES, 5, "outcome.improvement.title", "/outcomes/improvement");
	}

	@Bean
	NavigationEntry lumpsEntry() {
		return new NavigationEntry(Section.OUTCOMES, 10, "outcome.lumps.title", "/outcomes/lumps");
	}

	@Bean
	NavigationEntry complicationsEntry() {
		return new NavigationEntry(Section.OUTCOMES, 20, "outcome.complications.title", "/outcomes/complications");
	}

	@Bean
	NavigationEntry reviewsEntry() {
		return new NavigationEntry(Section.OUTCOMES, 60, "outcome.reviews.title", "/outcomes/reviews");
	}

	@Bean
	NavigationEntry repeatabilityEntry() {
		return new NavigationEntry(Section.OUTCOMES, 30, "outcome.repeatability.title", "/outcomes/repeatability");
	}

	@Bean
	NavigationEntry dataQualityEntry() {
		return new NavigationEntry(Section.OUTCOMES, 40, "outcome.quality.title", "/outcomes/data-quality");
	}

	@Bean
	NavigationEntry recallEntry() {
		return new NavigationEntry(Section.OUTCOMES, 50, "outcome.recall.title", "/outcomes/recall");
	}

	@Bean
	NavigationEntry quarterlyReportEntry() {
		return new NavigationEntry(Section.OUTCOMES, 70, "outcome.report.title", "/outcomes/report");
	}

}
