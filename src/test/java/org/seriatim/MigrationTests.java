package org.seriatim;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

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

	/** From the first step on that a version may meet without knowing it. */
	private static final int SIDE_BY_SIDE_SINCE = 74;

	@Test
	void theVersionBeforeGoesOnBesideEachStep() throws IOException {
		var faults = new ArrayList<String>();
		for (var file : new PathMatchingResourcePatternResolver().getResources("classpath:db/migration/*")) {
			var name = NAME.matcher(String.valueOf(file.getFilename()));
			if (name.matches() && Integer.parseInt(name.group(1)) >= SIDE_BY_SIDE_SINCE) {
				ExpandingMigration.faults(name.group(1), file.getContentAsString(StandardCharsets.UTF_8))
					.forEach((fault) -> faults.add(file.getFilename() + ": " + fault));
			}
		}
		assertThat(faults).as("""
				what the version before may not survive; add and take away in two versions, say in a comment \
				'-- Works beside the version before: …' why it does, or name the step in schema_step_needed""")
			.isEmpty();
	}

	@ParameterizedTest
	@ValueSource(strings = { "drop table patient;", "alter table patient drop column phone;",
			"alter table patient rename column phone to telephone;", "alter table patient rename to person;",
			"alter table patient add column born date not null;", "alter table patient add column code text unique;",
			"alter table patient add column born date, alter column phone set not null;",
			"alter table patient alter column phone type varchar(9);",
			"alter table patient add constraint long check (length(phone) > 4);",
			"alter table series add foreign key (x) references y (x);", "create unique index one on patient (phone);",
			"create trigger t before insert on patient for each row execute function f();",
			"create or replace function erase_patient() returns void language sql as $$ select 1; $$;",
			"update patient set phone = '';", "delete from snapshot;", "insert into protocol values (2);",
			"do $$ begin drop table patient; end $$;", "truncate patient;",
			"create table fresh (id int); drop table patient;" })
	void aStepThatTakesAwayIsNoticed(String sql) {
		assertThat(ExpandingMigration.faults("099", sql)).hasSize(1);
		assertThat(ExpandingMigration.faults("099", sql + " insert into schema_step_needed values ('099');")).isEmpty();
		assertThat(ExpandingMigration.faults("099", sql + " insert into schema_step_needed values ('098');"))
			.isNotEmpty();
	}

	@ParameterizedTest
	@ValueSource(strings = { "create table fresh (id int primary key, of uuid not null references patient);",
			"alter table patient add column nickname text;", "alter table patient add column a int, add column b int;",
			"alter table patient add column seen boolean not null default false;",
			"create index quick on patient (phone);", "comment on table patient is 'a; b, c';",
			"create table fresh (id int); create unique index one on fresh (id); alter table fresh add check (id > 0);",
			"create table fresh (id int); create trigger t before update on fresh for each row execute function f();",
			"create table fresh (id int); insert into fresh values (1), (2);",
			"create function f() returns trigger language plpgsql as $$ begin return new; end $$;",
			"-- Works beside the version before: it writes every row.\nupdate patient set phone = phone;" })
	void aStepThatOnlyAddsIsNot(String sql) {
		assertThat(ExpandingMigration.faults("099", sql)).isEmpty();
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
