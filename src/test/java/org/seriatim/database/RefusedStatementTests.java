package org.seriatim.database;

import org.junit.jupiter.api.Test;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;

import org.seriatim.support.DatabaseTest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

@DatabaseTest
class RefusedStatementTests {

	@Autowired
	private JdbcClient database;

	@Test
	void doesNotQuoteTheValuesThatItRefused() {
		this.database.sql("create temporary table person (name text constraint person_key primary key)").update();
		DuplicateKeyException refused = catchThrowableOfType(DuplicateKeyException.class,
				() -> this.database.sql("insert into person values (:name), (:name)").param("name", "Ysolde").update());
		assertThat(refused).hasStackTraceContaining("person_key");
		for (Throwable cause = refused; cause != null; cause = cause.getCause()) {
			assertThat(cause.getMessage()).doesNotContain("Ysolde");
		}
	}

}
