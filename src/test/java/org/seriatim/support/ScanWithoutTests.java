package org.seriatim.support;

import java.io.IOException;
import java.util.List;

import org.springframework.boot.context.TypeExcludeFilter;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.core.type.classreading.MetadataReader;
import org.springframework.core.type.classreading.MetadataReaderFactory;
import org.springframework.test.context.ContextConfigurationAttributes;
import org.springframework.test.context.ContextCustomizer;
import org.springframework.test.context.ContextCustomizerFactory;
import org.springframework.test.context.MergedContextConfiguration;

/**
 * Keeps the application's scan to the application. Test classes share its packages, so a
 * configuration or controller made for one test would otherwise be part of every other;
 * whoever needs one names or imports it.
 */
class ScanWithoutTests implements ContextCustomizerFactory {

	@Override
	public ContextCustomizer createContextCustomizer(Class<?> testClass,
			List<ContextConfigurationAttributes> attributes) {
		return new Customizer();
	}

	/** A record, so that all contexts have the same one. */
	private record Customizer() implements ContextCustomizer {

		@Override
		public void customizeContext(ConfigurableApplicationContext context, MergedContextConfiguration configuration) {
			context.getBeanFactory().registerSingleton(ScanWithoutTests.class.getName(), new TestClasses());
		}

	}

	/** What stands beside the application on the class path of the tests. */
	static final class TestClasses extends TypeExcludeFilter {

		@Override
		public boolean match(MetadataReader type, MetadataReaderFactory types) throws IOException {
			return type.getResource().getURL().getPath().contains("/test-classes/");
		}

		@Override
		public boolean equals(Object other) {
			return other instanceof TestClasses;
		}

		@Override
		public int hashCode() {
			return TestClasses.class.hashCode();
		}

	}

}
