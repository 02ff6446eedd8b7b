package org.seriatim.exchange.domain;

import java.time.Instant;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

import org.seriatim.exchange.ImportProgress.Stage;
import org.seriatim.exchange.ImportResult;

/**
 * An import that somebody started on a page and that goes on whether or not anybody
 * looks.
 *
 * @param id names it in addresses
 * @param by who started it
 * @param startedAt when
 * @param update whether rows with other values become new versions
 * @param state how far it is, or what became of it
 */
public record ImportJob(UUID id, String by, Instant startedAt, boolean update, State state) {

	ImportJob at(State state) {
		return new ImportJob(this.id, this.by, this.startedAt, this.update, state);
	}

	public boolean isRunning() {
		return this.state instanceof Running;
	}

	/** How far an import is. */
	public sealed interface State {

	}

	/**
	 * It goes on; before its first stage it waits for its turn.
	 *
	 * @param done how much of the stage is done, in the stage's own unit
	 */
	public record Running(@Nullable Stage stage, String file, long done, long total) implements State {
	}

	/** It has ended as it should: the bundle was taken or refused. */
	public record Ended(ImportResult result, Instant at) implements State {
	}

	/**
	 * It broke off; the records are as they were. The log knows more under the reference.
	 */
	public record BrokenOff(Instant at) implements State {
	}

}
