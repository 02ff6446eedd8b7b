package org.seriatim;

import java.util.Map;
import java.util.function.Function;
import java.util.stream.Stream;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.DynamicTest.dynamicTest;

/**
 * Each rule is seen green on the application and red on one class under {@code wrong}
 * that breaks it: a rule with a slip in a package name could otherwise never fail.
 */
class ArchitectureTests {

	private static final Map<Function<ArchitectureRules, ArchRule>, Class<?>> BREACHES = Map.ofEntries(
			Map.entry(ArchitectureRules::statisticsIsPlainJava, wrong.statistics.LogsItsResult.class),
			Map.entry(ArchitectureRules::statisticsKnowsNoClock, wrong.statistics.AsksTheTime.class),
			Map.entry(ArchitectureRules::statisticsHoldsNoState, wrong.statistics.CountsItsCalls.class),
			Map.entry(ArchitectureRules::domainKnowsNoWeb, wrong.treatment.domain.KnowsItsPage.class),
			Map.entry(ArchitectureRules::publishedLanguageKnowsNoImplementation, wrong.treatment.ShowsItsInside.class),
			Map.entry(ArchitectureRules::repositoriesStayInside, wrong.treatment.domain.PublicRepository.class),
			Map.entry(ArchitectureRules::controllersStayInside, wrong.treatment.web.PublicController.class),
			Map.entry(ArchitectureRules::formsStayInside, wrong.treatment.web.PublicForm.class),
			Map.entry(ArchitectureRules::nothingIsInjectedIntoAField, wrong.treatment.domain.InjectsIntoAField.class),
			Map.entry(ArchitectureRules::onlyConfigurationReadsTheSystemClock,
					wrong.treatment.domain.ReadsTheSystemClock.class),
			Map.entry(ArchitectureRules::noTextIsParsedAsMarkupOrRun, wrong.treatment.domain.ReadsMarkup.class));

	@TestFactory
	Stream<DynamicTest> theApplicationKeeps() {
		JavaClasses application = new ClassFileImporter().withImportOption(new ImportOption.DoNotIncludeTests())
			.importPackages("org.seriatim");
		ArchitectureRules rules = new ArchitectureRules("org.seriatim");
		return BREACHES.keySet()
			.stream()
			.map((rule) -> rule.apply(rules))
			.map((rule) -> dynamicTest(rule.getDescription(), () -> rule.allowEmptyShould(true).check(application)));
	}

	@TestFactory
	Stream<DynamicTest> aBreachIsNoticed() {
		JavaClasses wrong = new ClassFileImporter().importPackages("wrong");
		ArchitectureRules rules = new ArchitectureRules("wrong");
		return BREACHES.entrySet().stream().map((breach) -> {
			ArchRule rule = breach.getKey().apply(rules);
			return dynamicTest(breach.getValue().getSimpleName(),
					() -> assertThat(rule.evaluate(wrong).getFailureReport().getDetails()).isNotEmpty()
						.allMatch((detail) -> detail.contains(breach.getValue().getName())));
		});
	}

}
