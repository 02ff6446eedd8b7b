package org.seriatim.access.web;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;

import jakarta.servlet.ServletException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.springframework.mock.web.MockFilterChain;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.security.authentication.TestingAuthenticationToken;
import org.springframework.security.core.context.SecurityContextHolder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

class RequestRateTests {

	private final AtomicLong now = new AtomicLong(-5);

	private final RequestRate rate = new RequestRate(60, this.now::get);

	@AfterEach
	void signOut() {
		SecurityContextHolder.clearContext();
	}

	@Test
	void answersAMinutesWorthAtOnceAndThenEvenly() {
		for (int request = 0; request < 60; request++) {
			assertThat(this.rate.ask("one")).isZero();
		}
		assertThat(this.rate.ask("one")).isEqualTo(Duration.ofSeconds(1));
		this.now.addAndGet(Duration.ofSeconds(1).toNanos() - 1);
		assertThat(this.rate.ask("one")).isPositive();
		this.now.addAndGet(1);
		assertThat(this.rate.ask("one")).isZero();
		assertThat(this.rate.ask("one")).isPositive();
	}

	@Test
	void holdsNobodyBackForAnother() {
		for (int request = 0; request < 100; request++) {
			this.rate.ask("one");
		}
		assertThat(this.rate.ask("two")).isZero();
	}

	@Test
	void savesUpNoMoreThanAMinute() {
		this.rate.ask("one");
		this.now.addAndGet(Duration.ofDays(1).toNanos());
		int answered = 0;
		while (this.rate.ask("one").isZero()) {
			answered++;
		}
		assertThat(answered).isEqualTo(60);
	}

	@Test
	void refusesARateOfNothing() {
		assertThatIllegalArgumentException().isThrownBy(() -> new RequestRate(0, System::nanoTime))
			.withMessageContaining("perMinute");
	}

	@Test
	void tellsWhoAsksTooOftenWhenToComeBack() throws ServletException, IOException {
		var filter = new RequestRateFilter(new RequestSettings(5, 2));
		assertThat(status(filter, "192.0.2.1")).isEqualTo(200);
		assertThat(status(filter, "192.0.2.1")).isEqualTo(200);
		var response = new MockHttpServletResponse();
		filter.doFilter(from("/sign-in", "192.0.2.1"), response, new MockFilterChain());
		assertThat(response.getStatus()).isEqualTo(429);
		assertThat(Integer.parseInt(response.getHeader("Retry-After"))).isBetween(1, 31);
		assertThat(status(filter, "192.0.2.2")).isEqualTo(200);
	}

	@Test
	void countsTheSignedInByAccountWhereverTheyAsk() throws ServletException, IOException {
		var filter = new RequestRateFilter(new RequestSettings(2, 1));
		SecurityContextHolder.getContext().setAuthentication(new TestingAuthenticationToken("one", null, "ROLE_X"));
		assertThat(status(filter, "192.0.2.1")).isEqualTo(200);
		assertThat(status(filter, "192.0.2.2")).isEqualTo(200);
		assertThat(status(filter, "192.0.2.3")).isEqualTo(429);
		SecurityContextHolder.getContext().setAuthentication(new TestingAuthenticationToken("two", null, "ROLE_X"));
		assertThat(status(filter, "192.0.2.1")).isEqualTo(200);
	}

	@Test
	void doesNotCountTheFilesOfThePages() throws ServletException, IOException {
		var filter = new RequestRateFilter(new RequestSettings(5, 1));
		for (String file : List.of("/css/tokens.css", "/js/expiry.js", "/webjars/htmx.org/dist/htmx.min.js",
				"/favicon.svg")) {
			assertThat(status(filter, file, "192.0.2.1")).isEqualTo(200);
		}
		assertThat(status(filter, "192.0.2.1")).isEqualTo(200);
		assertThat(status(filter, "192.0.2.1")).isEqualTo(429);
	}

	@Test
	void takesAWholeNetworkOfVersionSixForOneCaller() {
		assertThat(RequestRateFilter.network("2001:db8:1:2::1"))
			.isEqualTo(RequestRateFilter.network("2001:db8:1:2:f::9"));
		assertThat(RequestRateFilter.network("2001:db8:1:2::1"))
			.isNotEqualTo(RequestRateFilter.network("2001:db8:1:3::1"));
		assertThat(RequestRateFilter.network("192.0.2.1")).isNotEqualTo(RequestRateFilter.network("192.0.2.2"));
	}

	private static int status(RequestRateFilter filter, String address) throws ServletException, IOException {
		return status(filter, "/sign-in", address);
	}

	private static int status(RequestRateFilter filter, String path, String address)
			throws ServletException, IOException {
		var response = new MockHttpServletResponse();
		filter.doFilter(from(path, address), response, new MockFilterChain());
		return response.getStatus();
	}

	private static MockHttpServletRequest from(String path, String address) {
		var request = new MockHttpServletRequest("GET", path);
		request.setRemoteAddr(address);
		return request;
	}

}
