package org.seriatim.outcome.domain;

import java.util.List;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The products and lots on record, for the filters. */
@Service
@Transactional(readOnly = true)
public class OutcomeChoices {

	private final JdbcClient database;

	OutcomeChoices(JdbcClient database) {
		this.database = database;
	}

	public List<String> products() {
		return this.database.sql("select distinct product from preparation order by product")
			.query(String.class)
			.list();
	}

	public List<String> lots() {
		return this.database.sql("select distinct lot from preparation where lot is not null order by lot")
			.query(String.class)
			.list();
	}

}
