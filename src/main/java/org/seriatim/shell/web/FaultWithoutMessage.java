package org.seriatim.shell.web;

import org.jspecify.annotations.Nullable;
import org.thymeleaf.exceptions.TemplateProcessingException;

/**
 * A fault as the log may have it: the types and places of an exception and its causes
 * without what they say, which may quote a record. Only what a template engine says is
 * kept, since it names our own template and line.
 */
final class FaultWithoutMessage extends Exception {

	private static final long serialVersionUID = 1L;

	/** No chain of causes is longer unless it runs in a circle. */
	private static final int MOST_CAUSES = 20;

	private final String type;

	private FaultWithoutMessage(Throwable fault, @Nullable Throwable cause) {
		super((fault instanceof TemplateProcessingException) ? fault.getMessage() : null, cause, false, true);
		this.type = fault.getClass().getName();
		setStackTrace(fault.getStackTrace());
	}

	static FaultWithoutMessage of(Throwable fault) {
		return of(fault, MOST_CAUSES);
	}

	private static FaultWithoutMessage of(Throwable fault, int left) {
		var cause = fault.getCause();
		return new FaultWithoutMessage(fault, (cause != null && left > 0) ? of(cause, left - 1) : null);
	}

	@Override
	public String toString() {
		return (getMessage() != null) ? this.type + ": " + getMessage() : this.type;
	}

}
