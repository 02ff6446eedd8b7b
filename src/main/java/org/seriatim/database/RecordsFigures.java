package org.seriatim.database;

import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Supplier;

import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.Tags;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.springframework.dao.DataAccessException;
import org.springframework.stereotype.Component;
import org.springframework.transaction.TransactionException;

/**
 * Figures about the records for whoever watches the service: numbers and times, never
 * anything about a person. Each is read from the database when it is asked for, so that
 * all services on one database say the same. While the database cannot be reached they
 * are not numbers, and asking for them takes no longer than for one of them.
 */
@Component
public class RecordsFigures {

	private static final Logger logger = LoggerFactory.getLogger(RecordsFigures.class);

	private static final long SILENCE = TimeUnit.SECONDS.toNanos(20);

	/** When the database was last found out of reach, in nanoseconds. */
	private final AtomicReference<@Nullable Long> unreachable = new AtomicReference<>();

	/**
	 * Describes a figure, to be registered.
	 * @param name in words with dots between, such as {@code seriatim.drafts.open}
	 * @param reading the figure now, empty if there is none
	 */
	public Gauge.Builder<Supplier<Number>> figure(String name, String description, Tags tags,
			Supplier<Optional<? extends Number>> reading) {
		return Gauge.builder(name, () -> read(name, reading)).description(description).tags(tags);
	}

	private Number read(String name, Supplier<Optional<? extends Number>> reading) {
		Long since = this.unreachable.get();
		if (since != null && System.nanoTime() - since < SILENCE) {
			return Double.NaN;
		}
		try {
			Optional<? extends Number> number = reading.get();
			this.unreachable.set(null);
			return number.isPresent() ? number.get() : Double.NaN;
		}
		catch (DataAccessException | TransactionException ex) {
			this.unreachable.set(System.nanoTime());
			logger.debug("The figure {} could not be read", name, ex);
			return Double.NaN;
		}
	}

}
