package org.seriatim.outcome.domain;

import org.junit.jupiter.api.Test;
import org.seriatim.support.PageTest;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.annotation.Transactional;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * PostgreSQL keeps a plan for any values of a statement that is asked often, and that
 * plan takes a whole clinic for a handful of sessions: the tenth opening of a page took
 * minutes with 30,000 of them.
 */
@PageTest
class FigureStatementsTests {

	@Autowired
	FollowedSessions sessions;

	@Autowired
	Complications complications;

	@Autowired
	JdbcClient database;

	@Test
	@Transactional
	void noPlanIsKeptHoweverOftenAPageIsOpened() {
		for (int opened = 0; opened < 12; opened++) {
			this.sessions.flow(OutcomeFilter.NONE);
			this.complications.rates(OutcomeFilter.NONE, ComplicationGrouping.NONE, null);
		}
		assertThat(this.database.sql("select statement from pg_prepared_statements").query(String.class).list())
			.noneMatch((statement) -> statement.contains("asked as ("));
	}

}
