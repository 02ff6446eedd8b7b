package org.seriatim.backup.domain;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Tags;
import io.micrometer.core.instrument.binder.MeterBinder;
import org.seriatim.database.RecordsFigures;
import org.springframework.stereotype.Component;

/** How old the newest good backup is. */
@Component
class BackupMeters implements MeterBinder {

	private final RecordsFigures figures;

	private final BackupState state;

	BackupMeters(RecordsFigures figures, BackupState state) {
		this.figures = figures;
		this.state = state;
	}

	@Override
	public void bindTo(MeterRegistry registry) {
		this.figures
			.figure("seriatim.backup.age", "Age of the newest good backup; not a number where there is none",
					Tags.empty(), () -> this.state.lastGood().map((at) -> this.state.age(at).toSeconds()))
			.baseUnit("seconds")
			.register(registry);
	}

}
