package org.seriatim.record.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;

import org.jspecify.annotations.Nullable;
import org.seriatim.treatment.RecordedInjection;
import org.seriatim.treatment.RecordedPreparation;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SessionId;

/**
 * A session with the name of its practitioner.
 */
public record SessionEntry(RecordedSession session, String practitioner) {

	public SessionId id() {
		return this.session.id();
	}

	/** Through the patient's sessions. */
	public int number() {
		return this.session.number();
	}

	public LocalDate treatedOn() {
		return this.session.treatedOn();
	}

	/** What was injected in all, in millilitres. */
	public Total injectedMl() {
		return Total.of(this.session.injections(), RecordedInjection::volumeMl);
	}

	/** The points in all. */
	public Total points() {
		return Total.of(this.session.injections(),
				(injection) -> (injection.points() != null) ? BigDecimal.valueOf(injection.points()) : null);
	}

	/** What was drawn and mixed, in millilitres. */
	public Total preparedMl() {
		return Total.of(this.session.preparations(), SessionEntry::preparedMl);
	}

	private static @Nullable BigDecimal preparedMl(RecordedPreparation preparation) {
		return (preparation.stockDrawnMl() != null && preparation.addedDiluentMl() != null
				&& preparation.lidocaineMl() != null)
						? preparation.stockDrawnMl().add(preparation.addedDiluentMl()).add(preparation.lidocaineMl())
						: null;
	}

	/** What was thrown away, in millilitres. */
	public Total discardedMl() {
		return Total.of(this.session.preparations(), RecordedPreparation::discardedMl);
	}

	/** The worst pain of one injection, 0 to 10. */
	public Optional<Integer> worstPain() {
		return this.session.injections()
			.stream()
			.map(RecordedInjection::painNrs)
			.filter(Objects::nonNull)
			.max(Integer::compareTo);
	}

	/**
	 * A sum over entries some of which may not say how much.
	 *
	 * @param sum over those that do
	 * @param of number of entries
	 * @param unknown how many of them do not say
	 */
	public record Total(BigDecimal sum, int of, int unknown) {

		public static <T> Total of(Iterable<T> entries, Function<T, @Nullable BigDecimal> amount) {
			var sum = BigDecimal.ZERO;
			var of = 0;
			var unknown = 0;
			for (T entry : entries) {
				var one = amount.apply(entry);
				of++;
				if (one == null) {
					unknown++;
				}
				else {
					sum = sum.add(one);
				}
			}
			return new Total(sum, of, unknown);
		}

		/** Whether anything is known at all. */
		public boolean isKnown() {
			return this.unknown < this.of;
		}

	}

}
