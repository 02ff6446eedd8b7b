package org.seriatim.database;

import java.util.ArrayList;
import java.util.Collections;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicInteger;

import javax.sql.DataSource;

import org.junit.jupiter.api.Test;
import org.seriatim.support.AtOnce;
import org.seriatim.support.PageTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

@PageTest
class OneServiceAtATimeTests {

	@Autowired
	private DataSource database;

	@Autowired
	private JdbcTemplate jdbc;

	@Test
	void anotherServiceLeavesWhatOneIsAt() throws Exception {
		var one = new OneServiceAtATime(this.database);
		var other = new OneServiceAtATime(this.database);
		var begun = new CountDownLatch(1);
		var looked = new CountDownLatch(1);
		var answers = Collections.synchronizedList(new ArrayList<Boolean>());
		AtOnce.run(() -> one.run("count", () -> {
			begun.countDown();
			AtOnce.await(looked);
		}), () -> {
			AtOnce.await(begun);
			answers.add(other.run("count", () -> answers.add(true)));
			answers.add(other.run("something else", () -> {
			}));
			looked.countDown();
		});
		assertThat(answers).containsExactly(false, true);
		assertThat(other.run("count", () -> {
		})).as("when the first one has ended").isTrue();
	}

	@Test
	void workThatFailsIsFreeAgain() {
		var services = new OneServiceAtATime(this.database);
		assertThatThrownBy(() -> services.run("count", () -> {
			throw new IllegalStateException("broken");
		})).isInstanceOf(IllegalStateException.class).hasMessage("broken");
		assertThat(services.run("count", () -> {
		})).isTrue();
	}

	@Test
	void workOfAServiceThatDiedIsFreeAgain() {
		var services = new OneServiceAtATime(this.database);
		var done = new AtomicInteger();
		services.run("count", () -> {
			// what a killed process leaves behind: a connection that ends
			this.jdbc.queryForList("""
					select pg_terminate_backend(pid, 10000) from pg_locks
					where locktype = 'advisory' and pid <> pg_backend_pid()
						and database = (select oid from pg_database where datname = current_database())""");
			services.run("count", done::incrementAndGet);
		});
		assertThat(done).hasValue(1);
	}

}
