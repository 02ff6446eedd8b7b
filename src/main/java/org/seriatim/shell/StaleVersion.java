package org.seriatim.shell;

import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.springframework.dao.OptimisticLockingFailureException;

/**
 * Somebody else changed what a form was about after the form was opened. Answered with a
 * page that shows both versions (409).
 */
public class StaleVersion extends OptimisticLockingFailureException {

	private final transient @Nullable Recorded newer;

	private StaleVersion(@Nullable Recorded newer) {
		super("the form shows an older version");
		this.newer = newer;
	}

	/** Who saved the newer version, and when, where that is known. */
	public Optional<Recorded> newer() {
		return Optional.ofNullable(this.newer);
	}

	/**
	 * Refuses a form that shows another version than the current one.
	 * @param shown the version that the form was filled from
	 * @param current the version of what is stored
	 */
	public static void unlessSame(@Nullable Long shown, @Nullable Long current) {
		unlessSame(shown, current, null);
	}

	/**
	 * The same, where it is known who saved the current one.
	 * @param recorded who saved it, and when
	 */
	public static void unlessSame(@Nullable Long shown, @Nullable Long current, @Nullable Recorded recorded) {
		if (!Objects.equals(shown, current)) {
			throw new StaleVersion(recorded);
		}
	}

}
