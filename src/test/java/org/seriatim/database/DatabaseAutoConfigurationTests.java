package org.seriatim.database;

import java.nio.file.Path;

import com.zaxxer.hikari.HikariDataSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import org.springframework.boot.autoconfigure.AutoConfigurations;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcClientAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcTemplateAutoConfiguration;
import org.springframework.boot.test.context.assertj.AssertableApplicationContext;
import org.springframework.boot.test.context.runner.ApplicationContextRunner;
import org.springframework.context.ApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;

import org.seriatim.database.RecordsDatabase.Access;
import org.seriatim.support.InMemory;

import static org.assertj.core.api.Assertions.assertThat;

class DatabaseAutoConfigurationTests {

	@TempDir(factory = InMemory.class)
	Path data;

	private final ApplicationContextRunner application = new ApplicationContextRunner()
		.withConfiguration(AutoConfigurations.of(DatabaseAutoConfiguration.class, DataSourceAutoConfiguration.class,
				FlywayAutoConfiguration.class, JdbcTemplateAutoConfiguration.class, JdbcClientAutoConfiguration.class))
		.withPropertyValues("spring.flyway.locations=classpath:db/migration");

	private ApplicationContextRunner service() {
		return this.application.withPropertyValues("seriatim.data=" + this.data, "spring.datasource.url=");
	}

	private ApplicationContextRunner command() {
		return service().withPropertyValues("seriatim.command=true");
	}

	@Test
	void takesTheConfiguredServer() {
		this.application
			.withPropertyValues("spring.datasource.url=jdbc:postgresql://db.example:5432/records?password=secret",
					"spring.flyway.enabled=false")
			.run((context) -> {
				assertThat(context).doesNotHaveBean(EmbeddedDatabase.class);
				assertThat(context.getBean(HikariDataSource.class).getJdbcUrl()).contains("db.example");
				RecordsDatabase database = context.getBean(RecordsDatabase.class);
				assertThat(database.access()).isEqualTo(Access.CONFIGURED);
				assertThat(database.place()).isEqualTo("postgresql://db.example:5432/records");
			});
	}

	@Test
	void saysWhichServerDoesNotLetItIn() {
		this.application
			.withPropertyValues("spring.datasource.url=jdbc:postgresql://127.0.0.1:1/records?password=secret",
					"spring.datasource.hikari.connection-timeout=250")
			.run((context) -> {
				assertThat(context).hasFailed();
				RecordsUnavailable refusal = refusal(context);
				assertThat(refusal.getMessage()).startsWith("The database at postgresql://127.0.0.1:1/records does not")
					.contains("refused")
					.contains("spring.datasource.url")
					.doesNotContain("secret");
			});
	}

	@Test
	void startsAnEmbeddedServerWhereNoneIsConfigured() {
		service().run((context) -> {
			assertThat(context.getBean(RecordsDatabase.class).access()).isEqualTo(Access.STARTED);
			assertThat(context.getBean(HikariDataSource.class).getJdbcUrl()).startsWith("jdbc:postgresql://127.0.0.1:");
			assertThat(migrations(context)).isPositive();
		});
		assertThat(this.data.resolve("postgresql/postmaster.pid")).doesNotExist();
	}

	@Test
	void refusesTheRecordsOfANewerVersion() {
		service().run((context) -> write(context, """
				insert into flyway_schema_history
				(installed_rank, version, description, type, script, installed_by, execution_time, success)
				values (9999, '999', 'later', 'SQL', 'V999__later.sql', 'seriatim', 1, true)
				"""));
		service().run((context) -> {
			assertThat(context).hasFailed();
			assertThat(refusal(context)).hasMessageContaining("newer version of Seriatim").hasMessageContaining("999");
		});
		assertThat(this.data.resolve("postgresql/postmaster.pid")).doesNotExist();
	}

	@Test
	void aCommandOfANewerVersionLeavesTheSchemaOfARunningServiceAlone() {
		service().withPropertyValues("spring.flyway.target=1").run((running) -> {
			assertThat(migrations(running)).isOne();
			command().run((context) -> {
				assertThat(context).hasFailed();
				assertThat(refusal(context)).hasMessageContaining("older version than this command");
			});
			assertThat(migrations(running)).isOne();
		});
	}

	private static RecordsUnavailable refusal(AssertableApplicationContext context) {
		Throwable cause = context.getStartupFailure();
		while (cause != null && !(cause instanceof RecordsUnavailable)) {
			cause = cause.getCause();
		}
		assertThat(cause).isInstanceOf(RecordsUnavailable.class);
		return (RecordsUnavailable) cause;
	}

	private static int migrations(ApplicationContext context) {
		return context.getBean(JdbcClient.class)
			.sql("select count(*) from flyway_schema_history where success")
			.query(Integer.class)
			.single();
	}

	private static void write(ApplicationContext context, String statement) {
		assertThat(JdbcClient.create(context.getBean(RecordsOwner.class).dataSource()).sql(statement).update()).isOne();
	}

}
