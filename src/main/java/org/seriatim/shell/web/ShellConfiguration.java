package org.seriatim.shell.web;

import java.time.Duration;
import java.util.Locale;
import java.util.Map;

import org.seriatim.shell.PassingFiles;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.boot.tomcat.ConfigurableTomcatWebServerFactory;
import org.springframework.boot.web.server.MimeMappings;
import org.springframework.boot.web.server.WebServerFactoryCustomizer;
import org.springframework.boot.web.server.servlet.ConfigurableServletWebServerFactory;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.convert.converter.Converter;
import org.springframework.core.convert.converter.ConverterFactory;
import org.springframework.format.FormatterRegistry;
import org.springframework.http.CacheControl;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.ResourceHandlerRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import org.springframework.web.servlet.resource.VersionResourceResolver;

/** How requests bind and what every page gets. */
@Configuration(proxyBeanMethods = false)
@ConditionalOnWebApplication
class ShellConfiguration implements WebMvcConfigurer {

	private final PageInterceptor page;

	private final RowIndexGuard rowIndexes;

	private final UploadGuard uploads;

	private final VersionsInForms versions;

	ShellConfiguration(PageInterceptor page, UploadGuard uploads, RowIndexGuard rowIndexes, VersionsInForms versions) {
		this.page = page;
		this.uploads = uploads;
		this.rowIndexes = rowIndexes;
		this.versions = versions;
	}

	/*
	 * Enumerations travel as their lower-case words, in addresses and forms as in files;
	 * the names of the constants are understood as well.
	 */
	@Override
	public void addFormatters(FormatterRegistry registry) {
		registry.addConverterFactory(new WordToEnum());
		registry.addConverter(new TextToId());
		registry.addConverter(Enum.class, String.class, (constant) -> constant.name().toLowerCase(Locale.ROOT));
	}

	@Override
	public void addInterceptors(InterceptorRegistry registry) {
		registry.addInterceptor(this.page);
		registry.addInterceptor(this.uploads);
		registry.addInterceptor(this.rowIndexes);
		registry.addInterceptor(this.versions);
	}

	/**
	 * Stylesheets and scripts say in which characters they are written, or a browser
	 * guesses.
	 */
	@Bean
	static WebServerFactoryCustomizer<ConfigurableServletWebServerFactory> charactersOfFiles() {
		return (server) -> server.addMimeMappings(
				new MimeMappings(Map.of("css", "text/css;charset=UTF-8", "js", "text/javascript;charset=UTF-8")));
	}

	/**
	 * Uploads wait where they are cleared away after a kill, and not in the machine's.
	 */
	@Bean
	static WebServerFactoryCustomizer<ConfigurableTomcatWebServerFactory> placeOfUploads(PassingFiles passing) {
		return (server) -> server.setBaseDirectory(passing.folder("tomcat"));
	}

	/*
	 * Only these folders, and not every address: each link of a page is offered to them,
	 * and would else be looked for among the files of all libraries.
	 */
	@Override
	public void addResourceHandlers(ResourceHandlerRegistry registry) {
		serve(registry, "/css/**", "classpath:/static/css/");
		serve(registry, "/js/**", "classpath:/static/js/");
		serve(registry, "/webjars/**", "classpath:/META-INF/resources/webjars/");
	}

	/* Each has its content in its address, so it can be kept for a year. */
	private static void serve(ResourceHandlerRegistry registry, String addresses, String folder) {
		registry.addResourceHandler(addresses)
			.addResourceLocations(folder)
			.setCacheControl(CacheControl.maxAge(Duration.ofDays(365)))
			.resourceChain(true)
			.addResolver(new VersionResourceResolver().addContentVersionStrategy("/**"));
	}

	@SuppressWarnings({ "rawtypes", "unchecked" })
	private static final class WordToEnum implements ConverterFactory<String, Enum> {

		@Override
		public <T extends Enum> Converter<String, T> getConverter(Class<T> type) {
			return (word) -> word.isBlank() ? null
					: (T) Enum.valueOf((Class) type, word.strip().toUpperCase(Locale.ROOT));
		}

	}

}
