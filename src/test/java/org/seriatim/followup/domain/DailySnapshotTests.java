package org.seriatim.followup.domain;

import java.time.Duration;
import java.time.LocalTime;

import org.junit.jupiter.api.Test;
import org.seriatim.support.AtOnce;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.scheduling.config.ScheduledTaskRegistrar;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
class DailySnapshotTests {

	@Autowired
	private KeepAdviceCurrent advice;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private TestClock clock;

	@Test
	void severalServicesTakeOneInANight() throws Exception {
		AtOnce.run(night(), night(), night());
		assertThat(snapshots()).isEqualTo(1);
		this.clock.advance(Duration.ofDays(1));
		AtOnce.run(night(), service()::catchUp, night());
		assertThat(snapshots()).isEqualTo(2);
	}

	private int snapshots() {
		return this.jdbc.queryForObject("select count(*) from snapshot", Integer.class);
	}

	private Runnable night() {
		var tasks = new ScheduledTaskRegistrar();
		service().configureTasks(tasks);
		return tasks.getCronTaskList().get(0).getRunnable();
	}

	private DailySnapshot service() {
		return new DailySnapshot(this.advice, new SnapshotSettings(LocalTime.of(3, 30)), this.clock);
	}

}
