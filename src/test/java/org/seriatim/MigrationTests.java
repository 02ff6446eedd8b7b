package org.seriatim;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.junit.jupiter.api.Test;

import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;
import org.springframework.modulith.core.ApplicationModules;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * One line of migrations: {@code V001__module_what.sql}, each number once, without gaps,
 * named after the module that owns the tables.
 */
class MigrationTests {

	private static final Pattern NAME = Pattern.compile("V(\\d{3})__([a-z]+)_[a-z0-9]+(?:_[a-z0-9]+)*\\.sql");

	@Test
	void filesFollowEachOther() throws IOException {
		List<String> names = Arrays
			.stream(new PathMatchingResourcePatternResolver().getResources("classpath:db/migration/*"))
			.map(Resource::getFilename)
			.toList();
		Set<String> modules = ApplicationModules.of(SeriatimApplication.class)
			.stream()
			.map((module) -> module.getIdentifier().toString())
			.collect(Collectors.toSet());
		assertThat(names).isNotEmpty();
		assertThat(faults(names, modules)).isEmpty();
	}

	@Test
	void aFaultIsNoticed() {
		Set<String> modules = Set.of("patient", "treatment");
		assertThat(faults(List.of("V001__patient_create.sql", "V002__treatment_add_session.sql"), modules)).isEmpty();
		assertThat(faults(List.of("V001__patient_create.sql", "V1__patient_fix.sql"), modules))
			.containsExactly("V1__patient_fix.sql is not named V001__module_what.sql");
		assertThat(faults(List.of("V001__patient_create.sql", "V001__treatment_create.sql"), modules))
			.containsExactly("V001__treatment_create.sql should have number 002");
		assertThat(faults(List.of("V001__patient_create.sql", "V003__patient_more.sql"), modules)).isEmpty();
		assertThat(faults(List.of("V001__billing_create.sql"), modules))
			.containsExactly("V001__billing_create.sql names no module");
	}

	private static List<String> faults(List<String> names, Set<String> modules) {
		List<String> faults = new ArrayList<>();
		int next = 1;
		for (String name : names.stream().sorted().toList()) {
			Matcher matcher = NAME.matcher(name);
			if (!matcher.matches()) {
				faults.add(name + " is not named V001__module_what.sql");
				continue;
			}
			if (!modules.contains(matcher.group(2))) {
				faults.add(name + " names no module");
			}
			// numbers set aside for work that goes on elsewhere leave gaps
			if (Integer.parseInt(matcher.group(1)) < next) {
				faults.add("%s should have number %03d".formatted(name, next));
			}
			next = Integer.parseInt(matcher.group(1)) + 1;
		}
		return faults;
	}

}
