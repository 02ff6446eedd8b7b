package org.seriatim.access.web;

import java.nio.charset.StandardCharsets;
import java.time.OffsetDateTime;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.security.web.access.intercept.RequestAuthorizationContext;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

/** What whoever watches the service may know, and nothing of anybody's record. */
@PageTest
class MetricsTests {

	@Autowired
	MockMvcTester pages;

	@Autowired
	TestStaff staff;

	@Autowired
	JdbcClient database;

	@Autowired
	Environment settings;

	@Test
	void aTokenOfTheConfigurationOpensThemAndNothingElseDoes() {
		assertThat(this.pages.get().uri(Routes.METRICS)).hasStatus(HttpStatus.FOUND);
		assertThat(this.pages.get().uri(Routes.METRICS).with(this.staff.as(Role.values())))
			.hasStatus(HttpStatus.FORBIDDEN);
		assertThat(this.pages.get().uri(Routes.METRICS).header(HttpHeaders.AUTHORIZATION, "Bearer " + "x".repeat(40)))
			.hasStatus(HttpStatus.UNAUTHORIZED);
		assertThat(this.pages.post().uri(Routes.METRICS).with(csrf()).header(HttpHeaders.AUTHORIZATION, bearer()))
			.hasStatus(HttpStatus.UNAUTHORIZED);
		assertThat(this.pages.get().uri("/today").header(HttpHeaders.AUTHORIZATION, bearer()))
			.hasStatus(HttpStatus.UNAUTHORIZED);
		assertThat(this.pages.get().uri("/actuator/metrics").header(HttpHeaders.AUTHORIZATION, bearer()))
			.hasStatus(HttpStatus.UNAUTHORIZED);
		assertThat(figures()).isNotEmpty();
	}

	@Test
	void withoutATokenInTheConfigurationNobodyReadsThem() {
		var rule = new MetricsRule(new MetricsSettings(null));
		var request = new MockHttpServletRequest();
		request.addHeader(HttpHeaders.AUTHORIZATION, "Bearer ");
		assertThat(rule.authorize(() -> null, new RequestAuthorizationContext(request)).isGranted()).isFalse();
	}

	@Test
	void sayHowItStands() {
		var treatment = new TestTreatment(this.database);
		treatment.series(treatment.patient("K7-SECRET"));
		assertThat(figures()).contains("seriatim_outbox_messages{state=\"waiting\"} 0.0", "seriatim_drafts_open 0.0",
				"seriatim_backup_age_seconds NaN", "seriatim_snapshot_age_seconds", "seriatim_sign_in_refused_total",
				"hikaricp_connections", "jvm_memory_used_bytes");
		this.database.sql("insert into snapshot (number, made_at, as_of, content) values (1, :at, :at, '{}')")
			.param("at", OffsetDateTime.parse("2026-11-20T03:30:00Z"))
			.update();
		assertThat(figures()).as("at nine").contains("seriatim_snapshot_age_seconds 19800.0");
	}

	@Test
	void holdNothingOfARecord() {
		var treatment = new TestTreatment(this.database);
		var patient = treatment.patient("K7-SECRET");
		var desk = this.staff.as(Role.PRACTITIONER);
		assertThat(this.pages.get().uri("/patients/" + patient.value()).with(desk)).hasStatusOk();
		this.pages.get().uri("/patients/search?q=K7-SECRET").with(desk).exchange();
		this.pages.get().uri("/patients/K7-SECRET").with(desk).exchange();
		this.pages.get().uri("/patients/" + UUID.randomUUID()).with(desk).exchange();
		this.pages.get().uri("/nowhere/K7-SECRET").with(desk).exchange();
		this.pages.get().uri("/nowhere/K7-SECRET").exchange();
		this.pages.get().uri("/answer/K7-SECRET").exchange();
		this.pages.get().uri("/calendar/K7-SECRET.ics").exchange();
		assertThat(figures()).contains("uri=\"/patients/{patient}\"")
			.doesNotContainIgnoringCase("K7-SECRET")
			.doesNotContain(patient.value().toString())
			.doesNotContainPattern("uri=\"[^\"]*[0-9a-f]{8}-");
	}

	private String bearer() {
		return "Bearer " + this.settings.getProperty("seriatim.metrics.token");
	}

	private String figures() {
		var answer = this.pages.get().uri(Routes.METRICS).header(HttpHeaders.AUTHORIZATION, bearer()).exchange();
		assertThat(answer).hasStatusOk();
		return new String(answer.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
	}

}
