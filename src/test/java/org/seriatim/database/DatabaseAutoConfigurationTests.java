package org.seriatim.database;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;

import com.zaxxer.hikari.HikariDataSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import org.springframework.boot.autoconfigure.AutoConfigurations;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcClientAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.JdbcTemplateAutoConfiguration;
import org.springframework.boot.test.context.assertj.AssertableApplicationContext;
import org.springframework.boot.test.context.runner.ApplicationContextRunner;
import org.springframework.context.ApplicationContext;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;

import org.seriatim.database.RecordsDatabase.Access;
import org.seriatim.support.InMemory;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

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
	void goesOnBesideANewerVersionUntilThatTakesAway() {
		service().run((context) -> {
			write(context, aStep("998"));
			write(context, aStep("999"));
		});
		service().run((context) -> {
			assertThat(context).as("which took nothing away").hasNotFailed();
			assertThat(migrations(context)).isPositive();
			write(context, "insert into schema_step_needed (step) values ('999')");
		});
		service().run((context) -> {
			assertThat(context).hasFailed();
			assertThat(refusal(context)).hasMessageContaining("newer version of Seriatim").hasMessageContaining("999");
		});
		assertThat(this.data.resolve("postgresql/postmaster.pid")).doesNotExist();
	}

	@Test
	void takesTheAuditLogFromTheServiceOfAnEarlierVersion() throws IOException {
		Path before = Files.createDirectory(this.data.resolve("before"));
		try (var steps = Files.newDirectoryStream(Path.of("db/migration"))) {
			for (Path step : steps) {
				if (!step.getFileName().toString().matches("V02[67].*")) {
					Files.copy(step, before.resolve(step.getFileName()));
				}
			}
		}
		service().withPropertyValues("spring.flyway.locations=filesystem:" + before)
			.run((context) -> write(context,
					"insert into audit_entry (at, action, kind) values (now(), 'signed_in', 'account')"));
		Path passwords = this.data.resolve("postgresql/credentials.properties");
		Files.write(passwords,
				Files.readAllLines(passwords).stream().filter((line) -> !line.startsWith("seriatim_service")).toList());
		// as application.properties has it
		service().withPropertyValues("spring.flyway.out-of-order=true").run((context) -> {
			assertThat(context).hasNotFailed();
			var service = context.getBean(JdbcClient.class);
			assertThat(service.sql("select count(*) from audit_waiting").query(Integer.class).single()).isOne();
			assertThatExceptionOfType(DataAccessException.class)
				.isThrownBy(() -> service.sql("delete from audit_entry").update())
				.havingRootCause()
				.withMessageContaining("permission denied");
		});
	}

	@Test
	void refusesAConfiguredServiceThatOwnsTheTables() {
		service().run((running) -> {
			var owner = running.getBean(FlywayConnectionDetails.class);
			var configured = this.application.withPropertyValues(
					"spring.datasource.url=" + owner.getJdbcUrl() + "?ApplicationName=secret",
					"spring.datasource.username=" + owner.getUsername(),
					"spring.datasource.password=" + owner.getPassword());
			configured.run((context) -> {
				assertThat(context).hasFailed();
				assertThat(refusal(context))
					.hasMessageContaining("as seriatim, which is also the role that owns the tables")
					.hasMessageContaining("create role seriatim_service login password")
					.hasMessageContaining("spring.flyway.user=seriatim")
					.hasMessageContaining("Nothing was changed");
			});
			var service = running.getBean(JdbcConnectionDetails.class);
			configured
				.withPropertyValues("spring.datasource.username=" + service.getUsername(),
						"spring.datasource.password=" + service.getPassword(),
						"spring.flyway.user=" + owner.getUsername(), "spring.flyway.password=" + owner.getPassword())
				.run((context) -> assertThat(context).hasNotFailed());
			JdbcClient.create(running.getBean(RecordsOwner.class).dataSource())
				.sql("grant update on audit_entry to public")
				.update();
			configured
				.withPropertyValues("spring.datasource.username=" + service.getUsername(),
						"spring.datasource.password=" + service.getPassword(),
						"spring.flyway.user=" + owner.getUsername(), "spring.flyway.password=" + owner.getPassword())
				.run((context) -> assertThat(refusal(context)).hasMessageContaining("update on audit_entry")
					.hasMessageContaining("revoke update on audit_entry from public"));
		});
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

	private static String aStep(String version) {
		return """
				insert into flyway_schema_history
				(installed_rank, version, description, type, script, installed_by, execution_time, success)
				values (1%1$s, '%1$s', 'later', 'SQL', 'V%1$s__later.sql', 'seriatim', 1, true)""".formatted(version);
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
