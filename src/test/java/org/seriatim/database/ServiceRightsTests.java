package org.seriatim.database;

import java.sql.SQLException;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.JdbcTemplate;

import org.seriatim.support.PageTest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

@PageTest
class ServiceRightsTests {

	@Autowired
	private JdbcTemplate service;

	@Autowired
	private RecordsOwner records;

	private JdbcTemplate owner;

	@BeforeEach
	void connectAsTheOwner() {
		this.owner = new JdbcTemplate(this.records.dataSource());
	}

	private void give() throws SQLException {
		new ServiceRights(ServiceRights.roleOf(this.service.getDataSource()), "flyway_schema_history")
			.give(this.records.dataSource());
	}

	@Test
	void areGivenForATableThatComesLater() throws SQLException {
		this.owner.execute("create table later (id bigserial primary key, text text)");
		assertRefused("insert into later (text) values ('a')");
		give();
		this.service.execute("insert into later (text) values ('a')");
		this.service.execute("update later set text = 'b'");
		this.service.execute("delete from later");
		assertRefused("truncate later");
		assertRefused("alter table later add column more text");
	}

	@Test
	void areLessWhereTheTableSaysSo() throws SQLException {
		this.owner.execute("create table later (text text)");
		give();
		this.owner.execute("comment on table later is 'Rights of the service: select, insert'");
		assertThat(ServiceRights.excess(this.service.getDataSource())).contains("update on later", "delete on later");
		give();
		this.service.execute("insert into later values ('a')");
		assertRefused("update later set text = 'b'");
		assertRefused("delete from later");
		assertThat(ServiceRights.excess(this.service.getDataSource())).isEmpty();
	}

	@Test
	void aFunctionWithTheOwnersRightsDoesNotSeeTheCallersTemporaryTables() throws SQLException {
		this.owner.execute("create table later (text text)");
		this.owner.execute(
				"""
						create function count_later() returns bigint language plpgsql security definer set search_path from current
						as 'begin return (select count(*) from later); end'""");
		give();
		assertThat(this.service.queryForObject("select proconfig::text from pg_proc where proname = 'count_later'",
				String.class))
			.contains("search_path=public, pg_temp");
		assertThat(this.service.queryForObject("select count_later()", Long.class)).isZero();
	}

	@Test
	void doNotReachTheRecordOfTheMigrations() {
		assertThat(this.service.queryForObject("select count(*) from flyway_schema_history", Long.class)).isPositive();
		assertRefused("delete from flyway_schema_history");
	}

	@Test
	void areNotThoseOfTheOwner() throws SQLException {
		String ownerRole = ServiceRights.roleOf(this.records.dataSource());
		assertThat(ServiceRights.canActAs(this.records.dataSource(), ownerRole)).isTrue();
		assertThat(ServiceRights.canActAs(this.service.getDataSource(), ownerRole)).isFalse();
	}

	private void assertRefused(String statement) {
		assertThatExceptionOfType(DataAccessException.class).isThrownBy(() -> this.service.execute(statement))
			.havingRootCause()
			.withMessageMatching("(?s).*(permission denied|must be owner).*");
	}

}
