package org.seriatim.access.web;

import java.io.UnsupportedEncodingException;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.HttpStatus;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** What an answer tells the browser; OWASP ASVS 5.0, chapter 3, names each header. */
@PageTest
@OneDatabase
class BrowserRulesTests {

	private static final String PASSWORD = "small steps on a long way";

	private static final Pattern SCRIPT = Pattern.compile("<script[^>]*>");

	@Autowired
	MockMvcTester pages;

	@Autowired
	TestStaff staff;

	@Autowired
	AccountRegister accounts;

	@ParameterizedTest
	@ValueSource(strings = { "/sign-in", "/password", "/css/seriatim.css", "/no/such/page" })
	void everyAnswerCarriesTheRules(String address) {
		var answer = this.pages.get().uri(address).with(this.staff.as(Role.PRACTITIONER)).exchange();
		assertThat(answer).hasHeader("X-Content-Type-Options", "nosniff")
			.hasHeader("X-Frame-Options", "DENY")
			.hasHeader("Referrer-Policy", "same-origin")
			.hasHeader("Cross-Origin-Opener-Policy", "same-origin")
			.hasHeader("Cross-Origin-Embedder-Policy", "require-corp")
			.hasHeader("Cross-Origin-Resource-Policy", "same-origin");
		assertThat(header(answer, "Permissions-Policy")).contains("camera=()", "geolocation=()", "microphone=()");
		assertThat(header(answer, "Content-Security-Policy")).startsWith("default-src 'none'; script-src 'nonce-")
			.contains("frame-ancestors 'none'", "base-uri 'none'", "form-action 'self'")
			.doesNotContain("unsafe", "*", "http");
	}

	private static String header(MvcTestResult answer, String name) {
		assertThat(answer.getResponse().getHeaders(name)).hasSize(1);
		return String.valueOf(answer.getResponse().getHeader(name));
	}

	@Test
	void everyScriptOfAPageCarriesTheNonceOfItsPolicy() throws UnsupportedEncodingException {
		var first = page();
		var second = page();
		var nonce = nonce(first);
		var scripts = SCRIPT.matcher(first.getResponse().getContentAsString()).results().toList();
		assertThat(scripts).hasSizeGreaterThan(2)
			.allSatisfy((script) -> assertThat(script.group()).contains(" nonce=\"" + nonce + "\"", " src=\""));
		assertThat(nonce).hasSizeGreaterThanOrEqualTo(22).isNotEqualTo(nonce(second));
	}

	private MvcTestResult page() {
		return this.pages.get().uri("/sign-in").exchange();
	}

	private static String nonce(MvcTestResult page) {
		return header(page, "Content-Security-Policy").replaceFirst(".*'nonce-([^']+)'.*", "$1");
	}

	@Test
	void aPageWithRecordsIsNotKeptByCaches() {
		var page = this.pages.get().uri("/patients").with(this.staff.as(Role.PRACTITIONER)).exchange();
		assertThat(header(page, HttpHeaders.CACHE_CONTROL)).contains("no-store");
	}

	@Test
	void onceReachedOverTlsItStaysThatWayForAYear() {
		assertThat(encrypted()).hasHeader("Strict-Transport-Security", "max-age=31536000");
		assertThat(page()).doesNotContainHeader("Strict-Transport-Security");
	}

	@Test
	void theCookieOfASignInNeverTravelsInTheClear() {
		assertThat(header(encrypted(), HttpHeaders.SET_COOKIE)).startsWith("__Host-seriatim=")
			.contains("; Path=/", "; Secure", "; HttpOnly", "; SameSite=Lax")
			.doesNotContain("Domain");
		assertThat(header(page(), HttpHeaders.SET_COOKIE)).startsWith("seriatim=")
			.contains("; Path=/", "; HttpOnly", "; SameSite=Lax");
	}

	/* The mark of a known browser too: every cookie that one sign-in sets. */
	@Test
	void everyCookieIsBoundToTheHost() {
		this.accounts.open("i.sandell", Set.of(Role.PRACTITIONER), PASSWORD);
		var signedIn = this.pages.post()
			.uri("https://clinic.example/sign-in")
			.secure(true)
			.with(csrf())
			.param("name", "i.sandell")
			.param("password", PASSWORD)
			.exchange();
		assertThat(signedIn.getResponse().getHeaders(HttpHeaders.SET_COOKIE)).hasSizeGreaterThan(1)
			.allSatisfy((cookie) -> assertThat(cookie).startsWith("__Host-")
				.contains("; Path=/", "; Secure", "; HttpOnly", "; SameSite=")
				.doesNotContain("Domain"));
	}

	/* OWASP ASVS 5.0.0, 14.3.1. */
	@Test
	void aBrowserForgetsAtTheSignOut() {
		var out = this.pages.post()
			.uri("https://clinic.example/sign-out")
			.secure(true)
			.with(this.staff.as(Role.PRACTITIONER))
			.with(csrf())
			.exchange();
		assertThat(out).hasStatus(HttpStatus.FOUND).hasHeader("Clear-Site-Data", "\"cache\", \"storage\"");
	}

	@Test
	void noOtherSiteMayReadAnAnswer() {
		for (var method : List.of(HttpMethod.GET, HttpMethod.OPTIONS)) {
			var answer = this.pages.method(method)
				.uri("/patients")
				.header(HttpHeaders.ORIGIN, "https://elsewhere.example")
				.header(HttpHeaders.ACCESS_CONTROL_REQUEST_METHOD, "GET")
				.with(this.staff.as(Role.PRACTITIONER))
				.exchange();
			assertThat(answer.getResponse().getHeaderNames()).noneMatch((name) -> name.startsWith("Access-Control-"));
		}
	}

	@ParameterizedTest
	@ValueSource(strings = { "/sign-in", "/follow-up/advice.csv?on=2026-11-20", "/outcomes/lumps.csv" })
	void everyTextSaysInWhichCharactersItIs(String address) {
		var answer = this.pages.get().uri(address).with(this.staff.as(Role.PRACTITIONER)).exchange();
		assertThat(answer.getResponse().getContentType()).containsIgnoringCase("charset=utf-8");
	}

	private MvcTestResult encrypted() {
		return this.pages.get().uri("https://clinic.example/sign-in").secure(true).exchange();
	}

	@ParameterizedTest
	@ValueSource(strings = { "http://clinic.example/sign-in", "http://192.168.1.20:8080/sign-in",
			"http://localhost.clinic.example/", "http://clinic.example/actuator/prometheus",
			"http://127.0.0.1.clinic.example/sign-in", "http://[2001:db8::1]/" })
	void answersTheNetworkOverTlsOnly(String address) {
		assertThat(this.pages.get().uri(address)).hasStatus(HttpStatus.FORBIDDEN)
			.doesNotContainHeader(HttpHeaders.SET_COOKIE)
			.bodyText()
			.contains("https");
	}

	@ParameterizedTest
	@ValueSource(strings = { "http://localhost/sign-in", "http://clinic.localhost:8080/sign-in",
			"http://127.0.0.1/sign-in", "http://[::1]:8080/sign-in", "http://clinic.example/actuator/health",
			"http://clinic.example/actuator/health/readiness", "http://clinic.example/actuator/health/liveness" })
	void answersItsOwnMachineAndItsSupervisorWithoutTls(String address) {
		assertThat(this.pages.get().uri(address)).hasStatusOk();
	}

}
