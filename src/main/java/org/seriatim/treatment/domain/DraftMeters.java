package org.seriatim.treatment.domain;

import java.util.Optional;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Tags;
import io.micrometer.core.instrument.binder.MeterBinder;
import org.seriatim.database.RecordsFigures;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** How many drafts of sessions wait for a practitioner. */
@Component
class DraftMeters implements MeterBinder {

	private final RecordsFigures figures;

	private final JdbcClient database;

	DraftMeters(RecordsFigures figures, JdbcClient database) {
		this.figures = figures;
		this.database = database;
	}

	@Override
	public void bindTo(MeterRegistry registry) {
		this.figures.figure("seriatim.drafts.open", "Drafts of sessions that wait for a practitioner", Tags.empty(),
				() -> Optional.of(this.database.sql("select count(*) from session_draft where status = 'open'")
					.query(Long.class)
					.single()))
			.register(registry);
	}

}
