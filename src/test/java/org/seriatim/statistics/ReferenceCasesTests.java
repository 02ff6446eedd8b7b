package org.seriatim.statistics;

import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * The kernel against published tables and reference software. Run it on a folder of cases
 * of your own with {@code mvn test -Dtest=ReferenceCasesTests
 * -Dreference.cases=/path/to/folder}.
 */
class ReferenceCasesTests {

	@Test
	void meetsEveryCaseWithinItsTolerance() throws Exception {
		ReferenceCases cases = new ReferenceCases(methods());
		cases.run(folder());
		cases.report(System.out);
		assertThat(cases.failures()).isEmpty();
		assertThat(cases.passed()).as("cases found in the folder").isPositive();
	}

	/**
	 * Edges and far ends that went wrong once, or that no published table reaches.
	 */
	@Test
	void meetsItsOwnCases() throws Exception {
		ReferenceCases cases = new ReferenceCases(methods());
		cases.run(resources("more"));
		assertThat(cases.failures()).isEmpty();
		assertThat(cases.passed()).as("cases found in the folder").isPositive();
	}

	static Map<String, ReferenceMethod> methods() {
		Map<String, ReferenceMethod> methods = new HashMap<>();
		methods.putAll(CurveReference.methods());
		methods.putAll(OrdinalReference.methods());
		methods.putAll(RegressionReference.methods());
		methods.putAll(AgreementReference.methods());
		methods.putAll(MonitoringReference.methods());
		methods.putAll(ProportionReference.methods());
		methods.putAll(SurvivalReference.methods());
		return methods;
	}

	private static Path folder() throws Exception {
		String other = System.getProperty("reference.cases");
		return (other != null) ? Path.of(other) : resources("cases");
	}

	private static Path resources(String folder) throws Exception {
		return Path.of(ReferenceCasesTests.class.getResource("/reference/" + folder).toURI());
	}

}
