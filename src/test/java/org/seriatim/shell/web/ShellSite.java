package org.seriatim.shell.web;

import java.time.Clock;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;

import org.seriatim.shell.HxGet;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.seriatim.shell.StaleVersion;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.boot.autoconfigure.EnableAutoConfiguration;
import org.springframework.boot.context.properties.ConfigurationPropertiesScan;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.hibernate.autoconfigure.HibernateJpaAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.session.jdbc.autoconfigure.JdbcSessionAutoConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.ComponentScan;
import org.springframework.security.config.Customizer;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.core.userdetails.User;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.provisioning.InMemoryUserDetailsManager;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;

/**
 * The shell alone, without any record behind it: its pages, a few addresses that fail in
 * every way, and rules under which the front desk may open less than a lead.
 */
@TestComponent
@EnableAutoConfiguration(
		exclude = { DataSourceAutoConfiguration.class, HibernateJpaAutoConfiguration.class,
				FlywayAutoConfiguration.class, JdbcSessionAutoConfiguration.class },
		excludeName = "org.seriatim.database.DatabaseAutoConfiguration")
@ComponentScan("org.seriatim.shell")
@ConfigurationPropertiesScan("org.seriatim.shell")
class ShellSite {

	@Bean
	SecurityFilterChain rules(HttpSecurity http) {
		http.authorizeHttpRequests((requests) -> requests.requestMatchers("/css/**", "/js/**", "/webjars/**", "/error")
			.permitAll()
			.requestMatchers("/outcomes/**", "/setup/**")
			.hasRole("CLINIC_LEAD")
			.anyRequest()
			.authenticated());
		http.httpBasic(Customizer.withDefaults());
		http.csrf((csrf) -> csrf.disable());
		return http.build();
	}

	@Bean
	UserDetailsService people() {
		return new InMemoryUserDetailsManager(
				User.withUsername("desk").password("{noop}secret").roles("FRONT_DESK").build(),
				User.withUsername("lead").password("{noop}secret").roles("CLINIC_LEAD").build());
	}

	@Bean
	Clock clock() {
		return Clock.systemUTC();
	}

	@Bean
	StaffDirectory staff() {
		return new StaffDirectory() {

			@Override
			public List<StaffMember> all() {
				return List.of();
			}

			@Override
			public List<StaffMember> holding(Role role) {
				return List.of();
			}

			@Override
			public Optional<StaffMember> byId(StaffId id) {
				return Optional.empty();
			}

			@Override
			public Map<String, StaffId> named(Collection<String> names) {
				return Map.of();
			}

		};
	}

	@Bean
	NavigationEntry followUp() {
		return new NavigationEntry(Section.FOLLOW_UP, 1, "shell.section.follow-up", "/follow-up");
	}

	@Bean
	NavigationEntry lumps() {
		return new NavigationEntry(Section.OUTCOMES, 1, "shell.section.outcomes", "/outcomes/lumps");
	}

	@Bean
	NavigationEntry complications() {
		return new NavigationEntry(Section.OUTCOMES, 2, "shell.section.setup", "/outcomes/complications");
	}

	@Controller
	static class Failures {

		final AtomicInteger wholePages = new AtomicInteger();

		@GetMapping({ "/outcomes/lumps", "/outcomes/lumps/detail", "/follow-up" })
		String page() {
			return "error/404";
		}

		@GetMapping("/broken")
		void broken() {
			throw new IllegalStateException("Maria Muster, born 1990");
		}

		@PostMapping("/stale")
		void stale() {
			StaleVersion.unlessSame(1L, 2L);
		}

		@GetMapping("/sections/{section}")
		@ResponseBody
		String section(@PathVariable Section section, @RequestParam(required = false) Section other) {
			return section.name() + " " + other;
		}

		@GetMapping("/twin")
		@ResponseBody
		String whole() {
			return "whole page";
		}

		@HxGet("/twin")
		@ResponseBody
		String fragment() {
			return "fragment";
		}

	}

}
