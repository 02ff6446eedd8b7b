package org.seriatim;

import java.io.ObjectInputStream;
import java.time.Clock;
import java.util.Calendar;
import java.util.Date;
import java.util.Set;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.lang.ArchRule;
import jakarta.inject.Inject;
import jakarta.persistence.PersistenceContext;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.annotation.Configuration;
import org.springframework.data.repository.Repository;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.ControllerAdvice;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noFields;

/**
 * The lines that the packages below a root keep, beside the module boundaries that Spring
 * Modulith verifies.
 */
final class ArchitectureRules {

	private static final Set<String> CLOCK_READERS = Set.of("currentTimeMillis", "systemUTC", "systemDefaultZone",
			"system");

	private final String root;

	ArchitectureRules(String root) {
		this.root = root;
	}

	/**
	 * Statistics could be lifted out whole: the JDK, distribution functions, nullness.
	 */
	ArchRule statisticsIsPlainJava() {
		return classes().that()
			.resideInAPackage(this.root + ".statistics..")
			.should()
			.onlyDependOnClassesThat(resideInAPackage(this.root + ".statistics..").or(resideInAPackage("java.."))
				.or(resideInAPackage("org.apache.commons.statistics.distribution.."))
				.or(resideInAPackage("org.hipparchus.."))
				.or(resideInAPackage("org.jspecify.annotations.."))
				.or(DescribedPredicate.describe("primitive", JavaClass::isPrimitive))
				.or(DescribedPredicate.describe("array of primitives",
						(type) -> type.isArray() && type.getBaseComponentType().isPrimitive())));
	}

	ArchRule statisticsKnowsNoClock() {
		return noClasses().that()
			.resideInAPackage(this.root + ".statistics..")
			.should()
			.dependOnClassesThat()
			.belongToAnyOf(Clock.class);
	}

	ArchRule statisticsHoldsNoState() {
		return fields().that()
			.areDeclaredInClassesThat(resideInAPackage(this.root + ".statistics.."))
			.and()
			.areStatic()
			.should()
			.beFinal();
	}

	ArchRule domainKnowsNoWeb() {
		return noClasses().that()
			.resideInAPackage(this.root + ".*.domain..")
			.should()
			.dependOnClassesThat()
			.resideInAPackage(this.root + ".*.web..");
	}

	ArchRule publishedLanguageKnowsNoImplementation() {
		return noClasses().that()
			.resideInAPackage(this.root + ".*")
			.should()
			.dependOnClassesThat()
			.resideInAnyPackage(this.root + ".*.domain..", this.root + ".*.web..");
	}

	ArchRule repositoriesStayInside() {
		return classes().that().areAssignableTo(Repository.class).should().notBePublic();
	}

	ArchRule controllersStayInside() {
		return classes().that()
			.areAnnotatedWith(Controller.class)
			.or()
			.areMetaAnnotatedWith(Controller.class)
			.or()
			.areAnnotatedWith(ControllerAdvice.class)
			.or()
			.areMetaAnnotatedWith(ControllerAdvice.class)
			.should()
			.notBePublic();
	}

	ArchRule formsStayInside() {
		return classes().that()
			.resideInAPackage("..web..")
			.and()
			.haveSimpleNameEndingWith("Form")
			.should()
			.notBePublic();
	}

	ArchRule nothingIsInjectedIntoAField() {
		return noFields().should()
			.beAnnotatedWith(Autowired.class)
			.orShould()
			.beAnnotatedWith(Value.class)
			.orShould()
			.beAnnotatedWith(Inject.class)
			.orShould()
			.beAnnotatedWith("jakarta.annotation.Resource")
			.orShould()
			.beAnnotatedWith(PersistenceContext.class);
	}

	/**
	 * Time comes in as an argument or from the clock that a test can set.
	 */
	ArchRule onlyConfigurationReadsTheSystemClock() {
		return noClasses().that()
			.areNotAnnotatedWith(Configuration.class)
			.and()
			.areNotMetaAnnotatedWith(Configuration.class)
			.should()
			.accessTargetWhere(
					DescribedPredicate.describe("it reads the system clock", ArchitectureRules::readsTheSystemClock));
	}

	private static boolean readsTheSystemClock(JavaAccess<?> access) {
		JavaClass owner = access.getTargetOwner();
		String name = access.getName();
		if (name.equals("<init>")) {
			return owner.isEquivalentTo(Date.class) && access.getTarget().getFullName().endsWith("()");
		}
		boolean now = name.equals("now") && owner.getPackageName().startsWith("java.time")
				&& !access.getTarget().getFullName().contains("(" + Clock.class.getName());
		boolean reader = CLOCK_READERS.contains(name)
				&& (owner.isEquivalentTo(System.class) || owner.isEquivalentTo(Clock.class));
		boolean calendar = name.equals("getInstance") && owner.isAssignableTo(Calendar.class);
		return now || reader || calendar;
	}

	/**
	 * No text becomes a document that may fetch another, nor an object, a name to look
	 * up, or an expression that is run (OWASP ASVS 5.0.0, 1.3.2, 1.3.8, 1.5.1 and 1.5.2).
	 */
	ArchRule noTextIsParsedAsMarkupOrRun() {
		return noClasses().should()
			.dependOnClassesThat()
			.resideInAnyPackage("javax.xml..", "org.w3c.dom..", "org.xml.sax..", "javax.script..", "javax.naming..",
					"org.springframework.expression..")
			.orShould()
			.dependOnClassesThat()
			.areAssignableTo(ObjectInputStream.class);
	}

}
