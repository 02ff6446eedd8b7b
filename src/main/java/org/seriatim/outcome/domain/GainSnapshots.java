package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;

import tools.jackson.databind.json.JsonMapper;

import org.seriatim.followup.SnapshotTaken;
import org.seriatim.outcome.ExpectedGain;
import org.seriatim.outcome.ExpectedGains;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.event.TransactionalEventListener;

/**
 * Computes the gains of sessions with each snapshot of the clinic's figures and keeps
 * them, so that no page has to: the model reads every depth on record. It comes after the
 * snapshot's own transaction, in which all who change a record would have to wait.
 */
@Component
class GainSnapshots implements ExpectedGains {

	private static final JsonMapper JSON = JsonMapper.builder().build();

	private final JdbcClient database;

	private final ScarImprovement scars;

	private final Clock clock;

	GainSnapshots(JdbcClient database, ScarImprovement scars, Clock clock) {
		this.database = database;
		this.scars = scars;
		this.clock = clock;
	}

	@TransactionalEventListener
	@Transactional(propagation = Propagation.REQUIRES_NEW)
	void on(SnapshotTaken snapshot) {
		var gains = SessionGains.of(this.scars.compared(OutcomeFilter.NONE));
		this.database.sql("""
				insert into gain_snapshot (snapshot_number, made_at, as_of, content)
				values (:number, :now, :day, cast(:content as jsonb))
				on conflict do nothing""")
			.param("number", snapshot.number())
			.param("now", this.clock.instant().atOffset(ZoneOffset.UTC))
			.param("day", snapshot.asOf())
			.param("content", JSON.writeValueAsString(gains))
			.update();
	}

	@Override
	@Transactional(readOnly = true)
	public Optional<Kept> latest() {
		return this.database
			.sql("select snapshot_number, as_of, content from gain_snapshot order by snapshot_number desc limit 1")
			.query((row, index) -> new Kept(row.getInt("snapshot_number"), row.getObject("as_of", LocalDate.class),
					List.of(JSON.readValue(row.getString("content"), ExpectedGain[].class))))
			.optional();
	}

}
