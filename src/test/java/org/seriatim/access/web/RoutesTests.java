package org.seriatim.access.web;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;

import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.seriatim.access.Role;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@OneDatabase
class RoutesTests {

	private static final String ANY_ID = "01980000-0000-7000-8000-000000000000";

	@Autowired
	MockMvcTester pages;

	@Autowired
	TestStaff staff;

	@Autowired
	@Qualifier("requestMappingHandlerMapping")
	RequestMappingHandlerMapping handlers;

	@Test
	void statesTheRolesOfEveryMappedAddress() {
		var stated = new TreeSet<String>();
		Routes.all().forEach((route) -> stated.add(route.method() + " " + route.pattern()));
		var mapped = new TreeSet<String>();
		this.handlers.getHandlerMethods().forEach((mapping, handler) -> {
			if (handler.getBeanType().getPackageName().startsWith("org.seriatim")) {
				mapping.getPatternValues()
					.forEach((pattern) -> mapping.getMethodsCondition()
						.getMethods()
						.forEach((method) -> mapped.add(method + " " + pattern)));
				assertThat(mapping.getMethodsCondition().getMethods()).as("%s says which method it answers", mapping)
					.isNotEmpty();
			}
		});
		assertThat(mapped).isNotEmpty();
		assertThat(stated).as("the table of routes").containsAll(mapped);
	}

	@TestFactory
	List<DynamicTest> opensEachAddressToItsRolesAndToNobodyElse() {
		var tests = new ArrayList<DynamicTest>();
		for (var route : Routes.all()) {
			tests.add(DynamicTest.dynamicTest(route.method() + " " + route.pattern(), () -> {
				for (Role role : Role.values()) {
					boolean refused = statusFor(route, role) == HttpStatus.FORBIDDEN.value();
					assertThat(refused).as("%s is refused", role)
						.isEqualTo(!route.open() && !route.roles().contains(role));
				}
				if (!route.open()) {
					assertThat(this.pages.perform(request(route).with(csrf()))).as("without a sign-in")
						.hasStatus(HttpStatus.FOUND)
						.redirectedUrl()
						.startsWith("/sign-in");
				}
			}));
		}
		return tests;
	}

	@TestFactory
	List<DynamicTest> takesNoWriteWithoutATokenOfThePage() {
		return Routes.all()
			.stream()
			.filter((route) -> !List.of(HttpMethod.GET, HttpMethod.HEAD).contains(route.method()))
			// the address is the secret, and no cookie of the browser helps another site
			.filter((route) -> !route.pattern().startsWith("/answer/"))
			.map((route) -> DynamicTest.dynamicTest(route.method() + " " + route.pattern(),
					() -> assertThat(this.pages.perform(request(route).with(this.staff.as(Role.values()))))
						.hasStatus(HttpStatus.FORBIDDEN)))
			.toList();
	}

	@Test
	void refusesWhatIsNotInTheTable() {
		assertThat(this.pages.get().uri("/no/such/address").with(this.staff.as(Role.values())))
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	@Test
	void hasNoPageOfErrorsThatOneCanAskFor() {
		assertThat(this.pages.get().uri("/error").with(this.staff.as(Role.values()))).hasStatus(HttpStatus.FORBIDDEN);
	}

	private int statusFor(Routes.Route route, Role role) {
		return this.pages.perform(request(route).with(csrf()).with(this.staff.as(role))).getResponse().getStatus();
	}

	private MockMvcTester.MockMvcRequestBuilder request(Routes.Route route) {
		String address = route.pattern().replace("/**", "/none").replaceAll("\\{[^}]+}", ANY_ID);
		return this.pages.method(HttpMethod.valueOf(route.method().name())).uri(address);
	}

}
