package org.seriatim.treatment.web;

import java.util.HashMap;
import java.util.List;
import java.util.Map;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.seriatim.access.Role;
import org.seriatim.support.PageTest;
import org.seriatim.support.RefusedForm;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.TestTreatment;
import org.seriatim.treatment.domain.CatalogueLot;
import org.seriatim.treatment.domain.CatalogueProduct;
import org.seriatim.treatment.domain.ProductCatalogue;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpStatus;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

@PageTest
@SignedInAs(Role.CLINIC_LEAD)
class CataloguePageTests {

	@Autowired
	MockMvcTester pages;

	@Autowired
	ProductCatalogue catalogue;

	@Autowired
	TestStaff staff;

	@Autowired
	JdbcClient database;

	@Test
	void offersALotToTheSessionOnceItIsEntered() {
		assertThat(get("/setup/products")).bodyText().contains("No product yet");
		var product = product();
		assertThat(
				post("/setup/products/" + product.id() + "/lots/new", Map.of("lot", "L-77", "expiresOn", "2026-11-19")))
			.hasRedirectedUrl("/setup/products");
		assertThat(get("/setup/products")).bodyText().contains("poly-D,L-lactic acid", "L-77", "expired");
		var given = new TestTreatment(this.database);
		var patient = given.patient("T-1");
		given.screened(patient, "2026-11-20");
		var session = "/series/" + given.series(patient) + "/sessions/new";
		assertThat(get(session)).bodyText()
			.contains("poly-D,L-lactic acid · L-77 · expired 19 Nov 2026", "data-expires-on=\"2026-11-19\"",
					"data-vial-mg=\"200\"");
		var lot = lot();
		assertThat(post("/setup/lots/" + lot.id() + "/edit",
				Map.of("version", "0", "lot", "L-77", "expiresOn", "2026-11-19")))
			.hasRedirectedUrl("/setup/products");
		assertThat(get(session)).bodyText().doesNotContain("L-77");
	}

	@Test
	void fillsAPreparationInWithoutAScriptAndKeepsWhatWasTyped() {
		var product = product();
		post("/setup/products/" + product.id() + "/lots/new", Map.of("lot", "L-77", "expiresOn", "2027-01-31"));
		var given = new TestTreatment(this.database);
		var patient = given.patient("T-1");
		given.screened(patient, "2026-11-20");
		var session = "/series/" + given.series(patient) + "/sessions/new";
		var fill = "fill 2 " + lot().id();
		assertThat(get(session)).bodyText().contains("value=\"fill 1 " + lot().id() + "\"", "<noscript>");
		var typed = new HashMap<String, String>(Map.of("change", fill, "number", "1", "treatedOn", "soon",
				"preparations[0].number", "1", "preparations[0].lot", "other", "preparations[1].number", "2",
				"preparations[1].diluentMl", "4.5", "preparations[1].expiresOn", "never", "instructions", "cool it"));
		assertThat(post(session, typed)).hasStatusOk()
			.bodyText()
			.contains("name=\"preparations[1].product\" value=\"poly-D,L-lactic acid\"",
					"name=\"preparations[1].lot\" value=\"L-77\"",
					"name=\"preparations[1].expiresOn\" value=\"2027-01-31\"",
					"name=\"preparations[1].vialMg\" value=\"200\"", "name=\"preparations[1].diluentMl\" value=\"4.5\"",
					"name=\"preparations[0].lot\" value=\"other\"", "value=\"soon\"", "cool it");
		for (var wrong : List.of("fill", "fill 2", "fill two " + lot().id(), "fill 9 " + lot().id(), "fill 2 gone")) {
			typed.put("change", wrong);
			assertThat(post(session, typed)).hasStatusOk()
				.bodyText()
				.contains("name=\"preparations[0].lot\" value=\"other\"")
				.doesNotContain("name=\"preparations[1].lot\" value=\"L-77\"");
		}
	}

	@Test
	void mendsAProductOnceForEachVersion() {
		var product = product();
		var change = Map.of("version", "0", "substance", "poly-L-lactic acid", "vialMg", "150", "inUse", "true");
		assertThat(post("/setup/products/" + product.id() + "/edit", change)).hasRedirectedUrl("/setup/products");
		assertThat(this.catalogue.all()).extracting(CatalogueProduct::substance).containsExactly("poly-L-lactic acid");
		assertThat(post("/setup/products/" + product.id() + "/edit", change)).hasStatus(HttpStatus.CONFLICT);
	}

	@Test
	void hasAProductAndALotOnce() {
		var product = product();
		assertThat(RefusedForm
			.messages(post("/setup/products/new", Map.of("substance", "Poly-D,L-Lactic acid", "vialMg", "200"))))
			.containsOnly(Map.entry("substance", "The catalogue has this substance with these contents already."));
		var lots = "/setup/products/" + product.id() + "/lots/new";
		post(lots, Map.of("lot", "L-77", "expiresOn", "2027-01-31"));
		assertThat(RefusedForm.messages(post(lots, Map.of("lot", "L-77", "expiresOn", "2027-02-28"))))
			.containsOnly(Map.entry("lot", "This product has a lot of this name already."));
	}

	@ParameterizedTest
	@CsvSource(delimiter = '|', textBlock = """
			substance    |        | Fill this in.
			vialMg       | 0      | Enter a number from 0.1 to 10000 mg with at most 2 decimals.
			vialMg       | much   | Enter a number from 0.1 to 10000 mg with at most 2 decimals.
			hyaluronicMg | -1     | Enter a number from 0 to 10000 mg with at most 2 decimals.
			""")
	void saysBesideTheFieldWhatToMend(String field, String value, String message) {
		var form = new HashMap<>(Map.of("substance", "poly-D,L-lactic acid"));
		form.put(field, (value != null) ? value : " ");
		assertThat(RefusedForm.messages(post("/setup/products/new", form))).containsOnly(Map.entry(field, message));
		assertThat(this.catalogue.all()).isEmpty();
	}

	@Test
	void asksForTheExpiryOfALot() {
		assertThat(RefusedForm.messages(post("/setup/products/" + product().id() + "/lots/new", Map.of("lot", " "))))
			.containsOnlyKeys("lot", "expiresOn");
	}

	@ParameterizedTest
	@EnumSource(value = Role.class, names = { "PRACTITIONER", "ASSISTANT", "FRONT_DESK" })
	void isKeptByLeadAndAdministratorAlone(Role role) {
		assertThat(this.pages.get().uri("/setup/products").with(this.staff.as(role)).exchange())
			.hasStatus(HttpStatus.FORBIDDEN);
	}

	private CatalogueProduct product() {
		assertThat(post("/setup/products/new", Map.of("substance", "poly-D,L-lactic acid", "vialMg", "200")))
			.hasRedirectedUrl("/setup/products");
		return this.catalogue.all().get(0);
	}

	private CatalogueLot lot() {
		return this.catalogue.all().get(0).lots().get(0);
	}

	private MvcTestResult get(String address) {
		return this.pages.get().uri(address).exchange();
	}

	private MvcTestResult post(String address, Map<String, String> form) {
		var request = this.pages.post().uri(address).with(csrf());
		form.forEach(request::param);
		return request.exchange();
	}

}
