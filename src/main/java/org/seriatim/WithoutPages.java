package org.seriatim;

import java.util.regex.Pattern;

import org.springframework.boot.context.TypeExcludeFilter;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.type.classreading.MetadataReader;
import org.springframework.core.type.classreading.MetadataReaderFactory;

/**
 * Leaves out what only a web server needs: everything in the modules' {@code web}
 * packages but their configurations, which say for themselves what they need.
 */
final class WithoutPages extends TypeExcludeFilter {

	private static final Pattern WEB = Pattern
		.compile(Pattern.quote(WithoutPages.class.getPackageName()) + "\\.\\w+\\.web\\..+");

	@Override
	public boolean match(MetadataReader type, MetadataReaderFactory types) {
		return WEB.matcher(type.getClassMetadata().getClassName()).matches()
				&& !type.getAnnotationMetadata().isAnnotated(Configuration.class.getName());
	}

	@Override
	public boolean equals(Object other) {
		return other instanceof WithoutPages;
	}

	@Override
	public int hashCode() {
		return WithoutPages.class.hashCode();
	}

}
