package org.seriatim.treatment.domain;

import java.util.List;
import java.util.stream.Collectors;

/** What was said of a session cannot be. */
public class SessionRefused extends RuntimeException {

	private final List<SessionFault> faults;

	SessionRefused(List<SessionFault> faults) {
		super(faults.stream().map((fault) -> fault.rule().name()).collect(Collectors.joining(", ")));
		this.faults = List.copyOf(faults);
	}

	public List<SessionFault> faults() {
		return this.faults;
	}

}
