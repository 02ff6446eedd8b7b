package org.seriatim.shell;

import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.springframework.dao.OptimisticLockingFailureException;

/**
 * Somebody else changed what a form was about after the form was opened. Answered with
 * the conflict page (409), which gives back what was typed.
 */
public class StaleVersion extends OptimisticLockingFailureException {

	private StaleVersion() {
		super("the form shows an older version");
	}

	/**
	 * Refuses a form that shows another version than the current one.
	 * @param shown the version that the form was filled from
	 * @param current the version of what is stored
	 */
	public static void unlessSame(@Nullable Long shown, @Nullable Long current) {
		if (!Objects.equals(shown, current)) {
			throw new StaleVersion();
		}
	}

}
