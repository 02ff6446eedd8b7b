package org.seriatim;

import org.junit.jupiter.api.Test;

import org.springframework.modulith.core.ApplicationModules;
import org.springframework.modulith.docs.Documenter;

import static org.assertj.core.api.Assertions.assertThat;

class ModularityTests {

	private final ApplicationModules modules = ApplicationModules.of(SeriatimApplication.class);

	@Test
	void modulesUseEachOtherOnlyAsDeclared() {
		this.modules.verify();
	}

	@Test
	void everyPackageIsAModule() {
		assertThat(this.modules.stream().map((module) -> module.getIdentifier().toString())).containsExactlyInAnyOrder(
				"access", "appointment", "assessment", "backup", "bundle", "contactlink", "database", "demo",
				"exchange", "finding", "followup", "outcome", "patient", "photograph", "privacy", "record", "screening",
				"shell", "statistics", "treatment");
	}

	/**
	 * The picture is a product of the build: {@code target/spring-modulith-docs}.
	 */
	@Test
	void canBeDrawn() {
		new Documenter(this.modules).writeModulesAsPlantUml().writeIndividualModulesAsPlantUml();
	}

}
