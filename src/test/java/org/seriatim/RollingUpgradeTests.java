package org.seriatim;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;

import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.access.domain.ManageAccounts;
import org.seriatim.support.PreviousVersion;
import org.seriatim.support.ServicesOnOneDatabase;
import org.seriatim.support.Visitor;
import org.seriatim.treatment.TestTreatment;
import org.springframework.jdbc.core.simple.JdbcClient;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * The version before this one, built from its own source, goes on beside this one on a
 * schema that this one has moved forward. {@code src/test/proof/rolling-upgrade.sh}
 * builds it and names its classes in {@code previous.classes}.
 */
@EnabledIfSystemProperty(named = "previous.classes", matches = ".+")
class RollingUpgradeTests {

	private static final String PASSWORD = "nine calm herons wade";

	private static final List<String> PAGES = List.of("/today", "/diary", "/follow-up", "/patients", "/drafts",
			"/outcomes/lumps", "/outcomes/improvement", "/outcomes/complications", "/setup/protocol", "/account");

	@TempDir
	private Path data;

	@Test
	void bothVersionsWorkOnOneSchema() throws IOException {
		var classes = Path.of(System.getProperty("previous.classes"));
		try (var services = ServicesOnOneDatabase.unmigrated(this.data)) {
			var previous = PreviousVersion.start(classes, services);
			try {
				assertThat(previous.isRunning()).as(previous.output()).isTrue();
				var service = services.startUnchanged();
				var newer = ServicesOnOneDatabase.address(service);
				var older = previous.address();
				var accounts = service.getBean(ManageAccounts.class);
				accounts.open("p.reed", Set.of(Role.PRACTITIONER), PASSWORD);
				var database = service.getBean(JdbcClient.class);
				var treatment = new TestTreatment(database);
				var patient = treatment.patient("K1");
				var series = treatment.series(patient);
				treatment.screened(patient, LocalDate.now().toString());

				worksAtBoth(older, newer, "/patients/" + patient, "/series/" + series, "+00 555 0142");
				worksAtBoth(newer, older, "/patients/" + patient, "/series/" + series, "+00 555 0143");

				previous.close();
				previous = PreviousVersion.start(classes, services);
				if (knowsNeededSteps(classes)) {
					assertThat(previous.isRunning()).as(previous.output()).isTrue();
					worksAtBoth(newer, previous.address(), "/patients/" + patient, "/series/" + series, "+00 555 0144");
				}
				else {
					assertThat(previous.output()).as("a version of before that promise refuses, and changes nothing")
						.contains("written by a newer version of Seriatim");
				}
				assertThat(new Visitor().open(newer + "/actuator/health/readiness").statusCode()).isEqualTo(200);
			}
			finally {
				previous.close();
			}
		}
	}

	/** Signs in at the first one, and goes on at both. */
	private static void worksAtBoth(String first, String second, String patient, String series, String phone) {
		var visitor = new Visitor();
		assertThat(visitor.signIn(first, "p.reed", PASSWORD).statusCode()).isEqualTo(302);
		for (var service : List.of(first, second)) {
			for (var page : PAGES) {
				assertThat(visitor.open(service + page).statusCode()).as(service + page).isEqualTo(200);
			}
			assertThat(visitor.open(service + patient).statusCode()).as("the patient").isEqualTo(200);
			assertThat(visitor.open(service + series).statusCode()).as("the series").isEqualTo(200);
		}
		var form = visitor.open(first + series + "/sessions/new");
		var kept = visitor.fill(form, "main form", second, Map.of("weightKg", "61.5", "draft", "true"));
		assertThat(kept.statusCode()).as("a form of the one is taken by the other").isEqualTo(302);
		var draft = kept.headers().firstValue("Location").orElseThrow().replaceFirst("^https?://[^/]+", "");
		var shown = visitor.open(first + draft);
		assertThat(Jsoup.parse(shown.body()).select("[name=weightKg]").val()).isEqualTo("61.5");
		assertThat(visitor.fill(shown, "main form", first, Map.of("weightKg", "62", "draft", "true")).statusCode())
			.isEqualTo(302);
		assertThat(visitor.fill(shown, "main form", second, Map.of("weightKg", "63", "draft", "true")).statusCode())
			.isEqualTo(409);
		var edit = visitor.open(second + patient + "/edit");
		assertThat(
				visitor.fill(edit, "main form", first, Map.of("familyName", "Reed", "phone", phone, "reason", "told"))
					.statusCode())
			.isEqualTo(302);
		assertThat(visitor.open(second + patient).body()).contains(phone);
		assertThat(visitor.fill(visitor.open(second + "/today"), "form.account", first, Map.of()).statusCode())
			.isEqualTo(302);
		assertThat(visitor.open(second + "/today").statusCode()).isEqualTo(302);
	}

	private static boolean knowsNeededSteps(Path classes) throws IOException {
		try (var steps = Files.list(classes.resolve("db/migration"))) {
			return steps.anyMatch((step) -> step.getFileName().toString().startsWith("V074__"));
		}
	}

}
