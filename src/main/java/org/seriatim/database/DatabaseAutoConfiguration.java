package org.seriatim.database;

import java.sql.SQLException;
import java.util.Arrays;
import java.util.Optional;
import java.util.Properties;
import java.util.stream.Collectors;
import javax.sql.DataSource;

import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.MigrationState;
import org.postgresql.util.PSQLException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.AutoConfiguration;
import org.springframework.boot.autoconfigure.condition.ConditionOutcome;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.boot.autoconfigure.condition.SpringBootCondition;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.flyway.autoconfigure.FlywayMigrationStrategy;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.env.Environment;
import org.springframework.core.type.AnnotatedTypeMetadata;
import org.springframework.jdbc.datasource.SimpleDriverDataSource;
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
	 * Keeps a version of Seriatim from working on a schema that is too new for it, and
	 * the service from working with the rights of the owner.
	 */
	@Bean
	@ConditionalOnMissingBean
	FlywayMigrationStrategy migration(RecordsDatabase database, DataSource service) {
		return (flyway) -> {
			try {
				var owner = flyway.getConfiguration().getDataSource();
				keepValuesToThemselves(owner);
				String role = ServiceRights.roleOf(service);
				demandRoleOfItsOwn(database, role, service, owner);
				demandUsableSchema(flyway);
				if (database.access() == Access.JOINED) {
					demandSameSchema(flyway);
				}
				flyway.migrate();
				new ServiceRights(role, flyway.getConfiguration().getTable()).give(owner);
				demandNoMoreRights(database, role, service);
			}
			catch (FlywayException | SQLException ex) {
				throw closedDoor(ex).<RuntimeException>map((door) -> new RecordsUnavailable(
						"The database at %s does not let the service in: %s. Check spring.datasource.url, spring.datasource.username, spring.datasource.password, spring.flyway.user and spring.flyway.password, and that the server runs."
							.formatted(database.place(), door.getMessage().strip().replaceFirst("\\.$", "")),
						ex))
					.orElseGet(() -> (ex instanceof FlywayException failed) ? failed
							: new IllegalStateException("The rights of the service could not be given", ex));
			}
		};
	}

	@Bean
	@ConditionalOnMissingBean
	RecordsOwner recordsOwner(ObjectProvider<Flyway> flyway) {
		return new RecordsOwner(() -> flyway.stream()
			.findFirst()
			.map((migrations) -> migrations.getConfiguration().getDataSource())
			.orElseThrow(() -> new RecordsUnavailable(
					"This needs the role that owns the records, and migrations are turned off. Set spring.flyway.enabled=true, spring.flyway.user and spring.flyway.password.")));
	}

	/**
	 * A refused statement's detail quotes the patient's values, and messages end in logs.
	 */
	private static void keepValuesToThemselves(DataSource owner) {
		if (owner instanceof SimpleDriverDataSource connections) {
			var properties = new Properties();
			properties.setProperty("ApplicationName", "seriatim owner");
			properties.setProperty("logServerErrorDetail", "false");
			connections.setConnectionProperties(properties);
		}
	}

	private static void demandRoleOfItsOwn(RecordsDatabase database, String role, DataSource service, DataSource owner)
			throws SQLException {
		String ownerRole = ServiceRights.roleOf(owner);
		if (ServiceRights.canActAs(service, ownerRole)) {
			throw new RecordsUnavailable(
					("The service signs in to the database at %1$s as %2$s, %3$s, and could change or delete what is in the audit log. Nothing was changed. Give it a role of its own. As an administrator of that server run: "
							+ "create role seriatim_service login password '…'; Then name it with spring.datasource.username=seriatim_service and spring.datasource.password, and the role that owns the tables with spring.flyway.user=%4$s and spring.flyway.password. The rest of its rights it gets by itself.")
						.formatted(database.place(), role,
								role.equals(ownerRole) ? "which is also the role that owns the tables"
										: "which can act as %s, the role that owns the tables".formatted(ownerRole),
								role.equals(ownerRole) ? role : ownerRole));
		}
	}

	private static void demandNoMoreRights(RecordsDatabase database, String role, DataSource service)
			throws SQLException {
		var excess = ServiceRights.excess(service);
		if (!excess.isEmpty()) {
			throw new RecordsUnavailable(
					"The service signs in to the database at %s as %s, which has rights by another role or by everybody's that it must not have: %s. Take them away; as the role that gave them run: %s"
						.formatted(database.place(), role, String.join(", ", excess),
								excess.stream()
									.map((right) -> "revoke " + right + " from public;")
									.collect(Collectors.joining(" "))));
		}
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

	/**
	 * A newer version may have moved the schema forward, as long as it took nothing away
	 * that this one needs.
	 */
	private static void demandUsableSchema(Flyway flyway) throws SQLException {
		var unknown = Arrays.stream(flyway.info().applied())
			.filter((migration) -> migration.getState() == MigrationState.FUTURE_SUCCESS)
			.map((migration) -> String.valueOf(migration.getVersion()))
			.toList();
		if (unknown.isEmpty()) {
			return;
		}
		var needed = NeededSteps.of(flyway.getConfiguration().getDataSource());
		unknown.stream().filter(needed::contains).findFirst().ifPresent((step) -> {
			throw new RecordsUnavailable(
					"The records were written by a newer version of Seriatim (its schema has step %s, which this version does not know). Nothing was changed. Start that version or a later one."
						.formatted(step));
		});
		logger.info(
				"A newer version of Seriatim has moved the schema of the records forward, to step {}; this one goes on beside it",
				unknown.get(unknown.size() - 1));
	}

	private static void demandSameSchema(Flyway flyway) {
		if (flyway.info().pending().length > 0) {
			throw RecordsUnavailable.servedByAnOlderVersion();
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

		@Bean
		FlywayConnectionDetails ownerConnection(EmbeddedDatabase database) {
			return new FlywayConnectionDetails() {

				@Override
				public String getJdbcUrl() {
					return database.jdbcUrl();
				}

				@Override
				public String getUsername() {
					return database.owner();
				}

				@Override
				public String getPassword() {
					return database.passwordOfOwner();
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
