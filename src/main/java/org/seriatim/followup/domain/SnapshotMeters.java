package org.seriatim.followup.domain;

import java.time.Clock;
import java.time.Duration;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Tags;
import io.micrometer.core.instrument.binder.MeterBinder;
import org.seriatim.database.RecordsFigures;
import org.springframework.stereotype.Component;

/** How old the figures are on which advice rests. */
@Component
class SnapshotMeters implements MeterBinder {

	private final RecordsFigures figures;

	private final Snapshots snapshots;

	private final Clock clock;

	SnapshotMeters(RecordsFigures figures, Snapshots snapshots, Clock clock) {
		this.figures = figures;
		this.snapshots = snapshots;
		this.clock = clock;
	}

	@Override
	public void bindTo(MeterRegistry registry) {
		this.figures
			.figure("seriatim.snapshot.age", "Age of the newest snapshot of the clinic's figures", Tags.empty(),
					() -> this.snapshots.newestMadeAt()
						.map((at) -> Duration.between(at, this.clock.instant()).toSeconds()))
			.baseUnit("seconds")
			.register(registry);
	}

}
