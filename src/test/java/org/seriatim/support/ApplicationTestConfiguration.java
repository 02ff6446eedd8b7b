package org.seriatim.support;

import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;

import javax.sql.DataSource;

import com.zaxxer.hikari.HikariDataSource;

import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.flyway.autoconfigure.FlywayDataSource;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Primary;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.crypto.password.DelegatingPasswordEncoder;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder.SecretKeyFactoryAlgorithm;

import org.seriatim.access.domain.UnicodePasswords;
import org.seriatim.backup.domain.KeyDerivation;
import org.seriatim.database.RecordsDatabase;

/**
 * The application as it is, but for its database and its clock.
 */
@TestConfiguration(proxyBeanMethods = false)
class ApplicationTestConfiguration {

	@Bean
	Statements statements() {
		return new Statements();
	}

	@Bean
	TestDatabase testDatabase(Statements statements) {
		return new TestDatabase(statements);
	}

	@Bean
	@ConfigurationProperties("spring.datasource.hikari")
	HikariDataSource dataSource(TestDatabase database) {
		return database.pool();
	}

	@Bean(defaultCandidate = false)
	@FlywayDataSource
	DataSource ownerDataSource(TestDatabase database) {
		return database.owner();
	}

	@Bean
	RecordsDatabase recordsDatabase() {
		return new RecordsDatabase() {

			@Override
			public Access access() {
				return Access.CONFIGURED;
			}

			@Override
			public String place() {
				return "a test's database";
			}

			@Override
			public Optional<Path> folder() {
				return Optional.empty();
			}

		};
	}

	@Bean
	TestStaff testStaff(JdbcClient database, UserDetailsService accounts, TestClock clock) {
		return new TestStaff(database, accounts, clock);
	}

	@Bean
	@Primary
	TestClock testClock() {
		return new TestClock();
	}

	/** What makes a guess dear makes a test slow, here too. */
	@Bean
	@Primary
	KeyDerivation quickKeyDerivation() {
		return new KeyDerivation(2);
	}

	/**
	 * As the service hashes, with fewer rounds: what makes a guess dear makes a test
	 * slow.
	 */
	@Bean
	@Primary
	PasswordEncoder quickPasswords() {
		return quickEncoder();
	}

	static PasswordEncoder quickEncoder() {
		var rounds = 10;
		return new UnicodePasswords(new DelegatingPasswordEncoder("quick",
				Map.of("quick",
						new Pbkdf2PasswordEncoder("", 16, rounds, SecretKeyFactoryAlgorithm.PBKDF2WithHmacSHA256),
						"pbkdf2", Pbkdf2PasswordEncoder.defaultsForSpringSecurity_v5_8())));
	}

}
