package org.seriatim.support;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Primary;
import org.springframework.security.crypto.password.PasswordEncoder;

import org.seriatim.SeriatimApplication;

/**
 * Whole services beside one another, as behind a balancer: each with its own web server,
 * connections and schedules, all on one fresh database, with one data folder and one key.
 * They are as an operator starts them but for what makes a guess at a password dear.
 */
public final class ServicesOnOneDatabase implements AutoCloseable {

	private final TestServer server = TestServer.running();

	private final TestServer.Database database;

	private final Path data;

	private final List<ConfigurableApplicationContext> services = new ArrayList<>();

	/** On a fresh database that this version has migrated. */
	public ServicesOnOneDatabase(Path data) {
		this.data = data;
		this.database = this.server.create();
	}

	private ServicesOnOneDatabase(Path data, TestServer.Database database) {
		this.data = data;
		this.database = database;
	}

	/** On a database that waits for its first migration, by whichever version. */
	public static ServicesOnOneDatabase unmigrated(Path data) {
		return new ServicesOnOneDatabase(data, TestServer.running().createEmpty());
	}

	/** Makes passwords cheap. */
	@Configuration(proxyBeanMethods = false)
	static class Quick {

		@Bean
		@Primary
		PasswordEncoder quickPasswords() {
			return ApplicationTestConfiguration.quickEncoder();
		}

	}

	/** Starts one more of them. */
	public ConfigurableApplicationContext start(String... properties) {
		return start(List.of(SeriatimApplication.class, Quick.class), properties);
	}

	/** Starts one more of them, with passwords as dear as they are. */
	public ConfigurableApplicationContext startUnchanged(String... properties) {
		return start(List.of(SeriatimApplication.class), properties);
	}

	private ConfigurableApplicationContext start(List<Class<?>> sources, String... properties) {
		var arguments = new ArrayList<>(settings());
		arguments.add("--server.port=0");
		arguments.addAll(List.of(properties));
		var service = new SpringApplicationBuilder(sources.toArray(Class<?>[]::new))
			.initializers((context) -> context.getBeanFactory()
				.registerSingleton("withoutTests", new ScanWithoutTests.TestClasses()))
			.properties("spring.jmx.enabled=false")
			.run(arguments.toArray(String[]::new));
		this.services.add(service);
		return service;
	}

	/** What a process of its own needs to be one of them. */
	List<String> settings() {
		return List.of("--seriatim.data=" + this.data, "--seriatim.key=" + ApplicationTest.KEY,
				"--spring.datasource.url=" + this.database.url(),
				"--spring.datasource.username=" + this.database.service().name(),
				"--spring.datasource.password=" + this.database.service().password(),
				"--spring.flyway.user=" + this.database.owner().name(),
				"--spring.flyway.password=" + this.database.owner().password());
	}

	/** Where one of them answers. */
	public static String address(ConfigurableApplicationContext service) {
		return "http://localhost:" + Objects.requireNonNull(service.getEnvironment().getProperty("local.server.port"));
	}

	/** The database ends all connections and takes no new ones. */
	public void loseTheDatabase() {
		this.server.lock(this.database);
	}

	/** It is there again. */
	public void findTheDatabase() {
		this.server.unlock(this.database);
	}

	@Override
	public void close() {
		this.services.forEach(ConfigurableApplicationContext::close);
		this.server.drop(this.database);
	}

}
