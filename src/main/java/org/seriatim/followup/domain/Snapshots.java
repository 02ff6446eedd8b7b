package org.seriatim.followup.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;

import org.seriatim.followup.SnapshotTaken;

import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The numbered snapshots of the clinic's figures; none is ever changed. */
@Component
class Snapshots {

	private final JdbcClient database;

	private final RecordedFigures figures;

	private final ApplicationEventPublisher events;

	private final Clock clock;

	Snapshots(JdbcClient database, RecordedFigures figures, ApplicationEventPublisher events, Clock clock) {
		this.database = database;
		this.figures = figures;
		this.events = events;
		this.clock = clock;
	}

	Optional<Snapshot> latest() {
		return this.database.sql("select number, as_of, content from snapshot order by number desc limit 1")
			.query(Snapshots::snapshot)
			.optional();
	}

	Optional<Snapshot> byNumber(int number) {
		return this.database.sql("select number, as_of, content from snapshot where number = :number")
			.param("number", number)
			.query(Snapshots::snapshot)
			.optional();
	}

	/** When the newest one was made. */
	Optional<Instant> newestMadeAt() {
		return this.database.sql("select max(made_at) from snapshot")
			.query((row, number) -> Optional.ofNullable(row.getObject(1, OffsetDateTime.class)))
			.single()
			.map(OffsetDateTime::toInstant);
	}

	boolean existsFor(LocalDate day) {
		return this.database.sql("select exists (select from snapshot where as_of >= :day)")
			.param("day", day)
			.query(Boolean.class)
			.single();
	}

	/** Keeps the figures of now under the next number. */
	Snapshot take() {
		var now = this.clock.instant();
		var day = LocalDate.ofInstant(now, this.clock.getZone());
		var content = this.figures.asOf(day);
		var number = this.database.sql("""
				insert into snapshot (number, made_at, as_of, content)
				select coalesce(max(number), 0) + 1, :now, :day, cast(:content as jsonb) from snapshot
				returning number""")
			.param("now", now.atOffset(ZoneOffset.UTC))
			.param("day", day)
			.param("content", AdviceJson.write(content))
			.query(Integer.class)
			.single();
		this.events.publishEvent(new SnapshotTaken(number, day));
		return new Snapshot(number, day, content);
	}

	private static Snapshot snapshot(ResultSet row, int index) throws SQLException {
		return new Snapshot(row.getInt("number"), row.getObject("as_of", LocalDate.class),
				AdviceJson.read(row.getString("content"), ClinicFigures.class));
	}

}
