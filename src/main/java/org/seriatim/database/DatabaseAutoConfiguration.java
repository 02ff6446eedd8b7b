package org.seriatim.database;

import java.util.Arrays;
import java.util.Optional;
import javax.sql.DataSource;

import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.MigrationState;
import org.postgresql.util.PSQLException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.AutoConfiguration;
import org.springframework.boot.autoconfigure.condition.ConditionOutcome;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.boot.autoconfigure.condition.SpringBootCondition;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.boot.flyway.autoconfigure.FlywayMigrationStrategy;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.env.Environment;
import org.springframework.core.type.AnnotatedTypeMetadata;
import org.springframework.util.StringUtils;

import org.seriatim.database.RecordsDatabase.Access;

/**
 * Chooses the database by configuration alone: a configured {@code spring.datasource.url}
 * as it stands, else the embedded PostgreSQL under {@code seriatim.data}.
 * <p>
 * Only the address is ours. Pool, transactions, migrations and mapping stay Boot's own,
 * with their own properties; that is why this is an auto-configuration, seen before
 * Boot's.
 */
@AutoConfiguration(before = DataSourceAutoConfiguration.class)
class DatabaseAutoConfiguration {

	private static final Logger logger = LoggerFactory.getLogger(DatabaseAutoConfiguration.class);

	/**
	 * Keeps two versions of Seriatim from working on one schema.
	 */
	@Bean
	@ConditionalOnMissingBean
	FlywayMigrationStrategy migration(RecordsDatabase database) {
		return (flyway) -> {
			try {
				demandKnownSchema(flyway);
				if (database.access() == Access.JOINED) {
					demandSameSchema(flyway);
				}
				flyway.migrate();
			}
			catch (FlywayException ex) {
				throw closedDoor(ex).<RuntimeException>map((door) -> new RecordsUnavailable(
						"The database at %s does not let the service in: %s. Check spring.datasource.url, spring.datasource.username and spring.datasource.password, and that the server runs."
							.formatted(database.place(), door.getMessage().strip().replaceFirst("\\.$", "")),
						ex))
					.orElse(ex);
			}
		};
	}

	@Bean
	@ConditionalOnMissingBean
	RecordsDatabase configuredDatabase(Environment environment) {
		ConfiguredDatabase database = ConfiguredDatabase.at(environment.getProperty(NoConfiguredUrl.PROPERTY, ""));
		logger.info("The records are kept in {}", database.place());
		return database;
	}

	/**
	 * No connection, wrong password, no such database, or still starting.
	 */
	private static Optional<PSQLException> closedDoor(Throwable failure) {
		for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
			if (cause instanceof PSQLException refusal && refusal.getSQLState() != null
					&& refusal.getSQLState().matches("08...|28...|3D000|57P03")) {
				return Optional.of(refusal);
			}
		}
		return Optional.empty();
	}

	private static void demandKnownSchema(Flyway flyway) {
		Arrays.stream(flyway.info().applied())
			.filter((migration) -> migration.getState() == MigrationState.FUTURE_SUCCESS)
			.findFirst()
			.ifPresent((migration) -> {
				throw new RecordsUnavailable(
						"The records were written by a newer version of Seriatim (its schema has step %s, which this version does not know). Nothing was changed. Start that version or a later one."
							.formatted(migration.getVersion()));
			});
	}

	private static void demandSameSchema(Flyway flyway) {
		if (flyway.info().pending().length > 0) {
			throw new RecordsUnavailable(
					"The service that runs on these records is of an older version than this command. Nothing was changed. Stop the service and start it in this version, or run the command in the service's version.");
		}
	}

	@Configuration(proxyBeanMethods = false)
	@Conditional(NoConfiguredUrl.class)
	@ConditionalOnMissingBean({ DataSource.class, JdbcConnectionDetails.class })
	@EnableConfigurationProperties(DataSettings.class)
	static class Embedded {

		@Bean
		EmbeddedDatabase recordsDatabase(DataSettings settings) {
			EmbeddedDatabase database = EmbeddedDatabase.open(settings);
			// A context that is told to stop while it still starts is never closed; and
			// the server must outlast every connection of those that are.
			SpringApplication.getShutdownHandlers().add(database::close);
			return database;
		}

		@Bean
		JdbcConnectionDetails recordsConnection(EmbeddedDatabase database) {
			return new JdbcConnectionDetails() {

				@Override
				public String getJdbcUrl() {
					return database.jdbcUrl();
				}

				@Override
				public String getUsername() {
					return database.user();
				}

				@Override
				public String getPassword() {
					return database.password();
				}

			};
		}

	}

	/**
	 * A property that is there but empty, as an unset variable of a compose file makes
	 * it, configures nothing.
	 */
	static class NoConfiguredUrl extends SpringBootCondition {

		static final String PROPERTY = "spring.datasource.url";

		@Override
		public ConditionOutcome getMatchOutcome(ConditionContext context, AnnotatedTypeMetadata metadata) {
			Environment environment = context.getEnvironment();
			return new ConditionOutcome(!StringUtils.hasText(environment.getProperty(PROPERTY)),
					PROPERTY + " decides between a configured and the embedded database");
		}

	}

}
