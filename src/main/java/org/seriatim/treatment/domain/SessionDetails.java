package org.seriatim.treatment.domain;

import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;

/**
 * What a form says about a session. Its parts are told apart by their numbers, which they
 * keep when the session is corrected.
 */
public record SessionDetails(int number, LocalDate treatedOn, StaffId practitioner, Circumstances circumstances,
		List<Prepared> preparations, List<Injected> injections) {

	public SessionDetails {
		preparations = List.copyOf(preparations);
		injections = List.copyOf(injections);
	}

	/** One preparation. */
	public record Prepared(int number, Reconstitution reconstitution) {
	}

	/**
	 * One injection.
	 *
	 * @param preparation number of the preparation that it came from, if said
	 */
	public record Injected(int number, @Nullable Integer preparation, Placement placement) {
	}

	boolean hasPreparation(int number) {
		return this.preparations.stream().anyMatch((prepared) -> prepared.number() == number);
	}

}
