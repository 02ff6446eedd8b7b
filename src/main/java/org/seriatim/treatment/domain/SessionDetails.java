package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.treatment.Aftercare;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.Handling;
import org.seriatim.treatment.PointPattern;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.VolumeBalance;

/**
 * What a form says about a session. Its parts are told apart by their numbers, which they
 * keep when the session is corrected.
 */
public record SessionDetails(int number, LocalDate treatedOn, StaffId practitioner, Circumstances circumstances,
		List<Prepared> preparations, List<Injected> injections, Aftercare aftercare) {

	/** A session of whose aftercare nothing is said. */
	public SessionDetails(int number, LocalDate treatedOn, StaffId practitioner, Circumstances circumstances,
			List<Prepared> preparations, List<Injected> injections) {
		this(number, treatedOn, practitioner, circumstances, preparations, injections, Aftercare.UNKNOWN);
	}

	public SessionDetails {
		preparations = List.copyOf(preparations);
		injections = List.copyOf(injections);
	}

	/** One preparation. */
	public record Prepared(int number, Reconstitution reconstitution, Handling handling) {

		/** A preparation of whose handling nothing is said. */
		public Prepared(int number, Reconstitution reconstitution) {
			this(number, reconstitution, Handling.UNKNOWN);
		}

	}

	/**
	 * One injection.
	 *
	 * @param preparation number of the preparation that it came from, if said
	 */
	public record Injected(int number, @Nullable Integer preparation, Placement placement, PointPattern pattern) {

		/** An injection of whose pattern nothing is said. */
		public Injected(int number, @Nullable Integer preparation, Placement placement) {
			this(number, preparation, placement, PointPattern.UNKNOWN);
		}

	}

	/**
	 * Whether the volume of a preparation adds up; empty where one of the volumes is not
	 * said.
	 */
	Optional<VolumeBalance> balanceOf(Prepared prepared) {
		var vial = prepared.reconstitution();
		var injected = this.injections.stream()
			.filter((injection) -> Objects.equals(injection.preparation(), prepared.number()))
			.map((injection) -> injection.placement().volumeMl())
			.toList();
		var everyVolumeIsKnown = injected.stream().allMatch(Objects::nonNull) && this.injections.stream()
			.allMatch((injection) -> injection.preparation() != null && hasPreparation(injection.preparation()));
		return RecordedSession.balance(vial.stockDrawnMl(), vial.addedDiluentMl(), vial.lidocaineMl(),
				everyVolumeIsKnown ? injected : null, vial.discardedMl());
	}

	boolean usesRadiofrequency() {
		return this.circumstances.combination() != null && this.circumstances.combination() != Combination.NONE;
	}

	/** Whether a cream of lidocaine and prilocaine is on record, whatever of it. */
	boolean usesTopicalAnaesthetic() {
		return isSome(this.aftercare.topicalGrams()) || isSome(this.aftercare.topicalAreaCm2())
				|| this.circumstances.topicalMinutes() != null && this.circumstances.topicalMinutes() > 0;
	}

	private static boolean isSome(@Nullable BigDecimal amount) {
		return amount != null && amount.signum() > 0;
	}

	boolean hasPreparation(int number) {
		return this.preparations.stream().anyMatch((prepared) -> prepared.number() == number);
	}

}
