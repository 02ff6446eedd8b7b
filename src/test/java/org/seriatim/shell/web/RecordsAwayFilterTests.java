package org.seriatim.shell.web;

import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;

import jakarta.servlet.ServletException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.transaction.CannotCreateTransactionException;
import org.springframework.transaction.TransactionSystemException;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

/** States of PostgreSQL are those of its documentation, appendix A. */
class RecordsAwayFilterTests {

	private final MockHttpServletResponse response = new MockHttpServletResponse();

	private void ask(RuntimeException thrown) throws Exception {
		new RecordsAwayFilter().doFilter(new MockHttpServletRequest(), this.response, (request, answer) -> {
			throw new ServletException(thrown);
		});
	}

	@ParameterizedTest
	@CsvSource({ "08001, connection refused", "08006, connection lost", "57P01, told to stop", "57P02, crashed",
			"57P03, still starting", "53100, disk full", "53300, too many connections" })
	void saysThatTheRecordsAreAwayAndWhenToAskAgain(String state, String why) throws Exception {
		ask(new CannotCreateTransactionException(why, new SQLException(why, state)));
		assertThat(this.response.getStatus()).isEqualTo(503);
		assertThat(this.response.getHeader("Retry-After")).isEqualTo("5");
	}

	@Test
	void saysSoWhereNoConnectionCameInTime() throws Exception {
		ask(new CannotCreateTransactionException("none", new SQLTransientConnectionException("none in time")));
		assertThat(this.response.getStatus()).isEqualTo(503);
	}

	/*
	 * HikariCP 7: a connection that broke is replaced by one whose every method says just
	 * this; here as a transaction finds it that is to be taken back.
	 */
	@Test
	void saysSoWhereThePoolHasGivenAConnectionUp() throws Exception {
		ask(new TransactionSystemException("not taken back", new SQLException("Connection is closed")));
		assertThat(this.response.getStatus()).isEqualTo(503);
	}

	@Test
	void leavesAFaultOfAPageAFault() {
		assertThatThrownBy(() -> ask(new DataIntegrityViolationException("twice", new SQLException("twice", "23505"))))
			.isInstanceOf(ServletException.class);
		assertThatThrownBy(() -> ask(new IllegalStateException("ours"))).isInstanceOf(ServletException.class);
	}

}
