package org.seriatim.contactlink.domain;

import java.util.Optional;

import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Tags;
import io.micrometer.core.instrument.binder.MeterBinder;
import org.seriatim.contactlink.domain.OutboxMessage.State;
import org.seriatim.database.RecordsFigures;
import org.springframework.stereotype.Component;

/** How many messages wait in the outbox, are being sent, and need somebody to look. */
@Component
class OutboxMeters implements MeterBinder {

	private final RecordsFigures figures;

	private final Outbox outbox;

	OutboxMeters(RecordsFigures figures, Outbox outbox) {
		this.figures = figures;
		this.outbox = outbox;
	}

	@Override
	public void bindTo(MeterRegistry registry) {
		for (State state : new State[] { State.WAITING, State.SENDING, State.FAILED }) {
			this.figures
				.figure("seriatim.outbox.messages", "Messages in the outbox", Tags.of("state", state.word()),
						() -> Optional.of(count(state)))
				.register(registry);
		}
	}

	private int count(State state) {
		return this.outbox.counts()
			.stream()
			.filter((count) -> count.state() == state)
			.mapToInt(Outbox.Count::messages)
			.sum();
	}

}
