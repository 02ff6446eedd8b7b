package org.seriatim.support;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.annotation.Commit;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Each pair of repetitions would fail in its second round if the first one were still
 * there.
 */
class FreshStartTests {

	private static void writeOnce(JdbcClient database) {
		assertThat(written(database)).isZero();
		database.sql("insert into staff (name) values ('Once')").update();
	}

	private static int written(JdbcClient database) {
		return database.sql("select count(*) from staff where name = 'Once'").query(Integer.class).single();
	}

	@Nested
	@PageTest
	class APageTest {

		@Autowired
		private JdbcClient database;

		@Autowired
		private Clock clock;

		@Autowired
		private TestClock testClock;

		@RepeatedTest(3)
		void startsOnADatabaseWithoutTheWritesOfAnother() {
			writeOnce(this.database);
		}

		@RepeatedTest(2)
		void startsAtTheSameTime() {
			assertThat(this.clock.instant()).isEqualTo(Instant.parse("2026-11-20T09:00:00Z"));
			this.testClock.advance(Duration.ofDays(1));
			assertThat(this.clock.instant()).isEqualTo(Instant.parse("2026-11-21T09:00:00Z"));
		}

		@Test
		void usesNoSuperuser() {
			assertThat(this.database.sql("select rolsuper from pg_roles where rolname = current_user")
				.query(Boolean.class)
				.single()).isFalse();
		}

	}

	@Nested
	@DatabaseTest
	class ADatabaseTest {

		@Autowired
		private JdbcClient database;

		@RepeatedTest(3)
		void isRolledBack() {
			writeOnce(this.database);
		}

		@RepeatedTest(2)
		@Commit
		void startsAfreshWhereItCommits() {
			writeOnce(this.database);
		}

		@RepeatedTest(2)
		@Transactional(propagation = Propagation.NOT_SUPPORTED)
		void startsAfreshWhereItHasNoTransaction() {
			writeOnce(this.database);
		}

	}

	@Nested
	@PageTest
	@OneDatabase
	@TestInstance(TestInstance.Lifecycle.PER_CLASS)
	class AClassWithOneDatabase {

		@Autowired
		private JdbcClient database;

		@BeforeAll
		void load() {
			writeOnce(this.database);
		}

		@RepeatedTest(2)
		void seesWhatWasLoadedBeforeAll() {
			assertThat(written(this.database)).isOne();
		}

	}

}
