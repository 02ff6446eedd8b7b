package org.seriatim.shell.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

import org.springframework.context.MessageSource;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.support.ResourceBundleMessageSource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;

/** The texts of the pages: every file of the folder {@code messages}, one a module. */
@Configuration(proxyBeanMethods = false)
class MessageFiles {

	@Bean
	static MessageSource messageSource() throws IOException {
		var source = new ResourceBundleMessageSource();
		source.setBasenames(basenames());
		source.setDefaultEncoding(StandardCharsets.UTF_8.name());
		source.setFallbackToSystemLocale(false);
		return source;
	}

	private static String[] basenames() throws IOException {
		var files = new PathMatchingResourcePatternResolver().getResources("classpath*:messages/*.properties");
		return Arrays.stream(files)
			.map((file) -> String.valueOf(file.getFilename()))
			.filter((name) -> !name.contains("_"))
			.map((name) -> "messages/" + name.replace(".properties", ""))
			.sorted()
			.distinct()
			.toArray(String[]::new);
	}

}
