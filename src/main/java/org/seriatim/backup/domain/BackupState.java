package org.seriatim.backup.domain;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

import org.seriatim.access.DemoSignIns;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** How old the last good backup is, and whether somebody must be told. */
@Component
@Transactional(readOnly = true)
public class BackupState {

	private static final int SHOWN = 20;

	private final BackupRuns runs;

	private final BackupSettings settings;

	private final ObjectProvider<DemoSignIns> demo;

	private final Clock clock;

	BackupState(BackupRuns runs, BackupSettings settings, ObjectProvider<DemoSignIns> demo, Clock clock) {
		this.runs = runs;
		this.settings = settings;
		this.demo = demo;
		this.clock = clock;
	}

	/** Why the lead and the administrator are told. */
	public enum Alert {

		/** There is no good backup at all. */
		NONE_YET,

		/** The last good one is too old. */
		TOO_OLD

	}

	public Optional<Instant> lastGood() {
		return this.runs.lastGood();
	}

	public Duration age(Instant madeAt) {
		return Duration.between(madeAt, this.clock.instant());
	}

	public List<BackupRun> lastRuns() {
		return this.runs.last(SHOWN);
	}

	/**
	 * Empty as well while the clinic is an invented one: that is made again at any time.
	 */
	public Optional<Alert> alert() {
		if (this.demo.stream().anyMatch((people) -> !people.list().isEmpty())) {
			return Optional.empty();
		}
		return lastGood().map((at) -> (age(at).compareTo(this.settings.alertAfter()) > 0) ? Optional.of(Alert.TOO_OLD)
				: Optional.<Alert>empty())
			.orElse(Optional.of(Alert.NONE_YET));
	}

}
