package org.seriatim.database;

import org.jspecify.annotations.Nullable;

/**
 * The records cannot be opened, for a reason that the operator can mend. The message is
 * one paragraph for that person: what was found, and what to do. A service ends with it
 * on standard error and exit code 1, without a stack trace.
 */
public class RecordsUnavailable extends RuntimeException {

	RecordsUnavailable(String message) {
		super(message);
	}

	RecordsUnavailable(String message, @Nullable Throwable cause) {
		super(message, cause);
	}

	static RecordsUnavailable servedByAnOlderVersion() {
		return new RecordsUnavailable(
				"The service that runs on these records is of an older version than this command. Nothing was changed. Stop the service and start it in this version, or run the command in the service's version.");
	}

}
