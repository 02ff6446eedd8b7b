package org.seriatim.appointment.web;

import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class AppointmentNavigation {

	@Bean
	NavigationEntry todayEntry() {
		return new NavigationEntry(Section.FOLLOW_UP, 0, "appointment.today.title", "/today");
	}

	@Bean
	NavigationEntry diaryEntry() {
		return new NavigationEntry(Section.FOLLOW_UP, 2, "appointment.diary.title", "/diary");
	}

	@Bean
	NavigationEntry closedDaysEntry() {
		return new NavigationEntry(Section.FOLLOW_UP, 3, "appointment.closed.title", "/closed-days");
	}

	@Bean
	NavigationEntry hoursEntry() {
		return new NavigationEntry(Section.SETUP, 15, "appointment.hours.title", "/setup/hours");
	}

	@Bean
	NavigationEntry remindersEntry() {
		return new NavigationEntry(Section.SETUP, 24, "appointment.reminders.title", "/setup/reminders");
	}

}
