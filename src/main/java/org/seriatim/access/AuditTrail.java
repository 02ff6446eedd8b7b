package org.seriatim.access;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.function.Consumer;

import org.jspecify.annotations.Nullable;

import org.seriatim.access.AuditLog.Action;

/** The audit log, to be read. */
public interface AuditTrail {

	/**
	 * One entry.
	 *
	 * @param staff the name of who acted; none for the service itself and for visitors
	 * @param origin the way in: {@code sign_in}, {@code token}, {@code visitor},
	 * {@code command}, {@code service}; none in entries from before it was put down
	 * @param originId the sign-in or the token
	 * @param command the command with the machine's account that ran it
	 * @param emergency the emergency access that opened what the roles don't
	 */
	record Row(long id, Instant at, @Nullable String staff, Action action, String kind, @Nullable UUID entry,
			@Nullable UUID patient, @Nullable String detail, @Nullable String origin, @Nullable UUID originId,
			@Nullable String command, @Nullable String address, @Nullable UUID emergency) {

		public Place place() {
			return new Place(this.at, this.id);
		}

	}

	/** Where an entry stands in the order of time. */
	record Place(Instant at, long id) {
	}

	/**
	 * What is looked for; what is {@code null} is any.
	 *
	 * @param until not including it
	 */
	record Wanted(@Nullable StaffId staff, @Nullable UUID patient, @Nullable Action action, @Nullable String kind,
			@Nullable Instant from, @Nullable Instant until) {
	}

	/**
	 * What somebody did with a patient's record on one day: the same thing, once or more
	 * often.
	 *
	 * @param roles the words of the roles that the account has today, comma between
	 * @param emergency whether it was by an emergency access
	 * @param reason the reason of that access, as long as it is kept
	 */
	record Opening(Instant first, Instant last, long times, @Nullable String staff, String roles, Action action,
			String kind, @Nullable String origin, boolean emergency, @Nullable String reason) {
	}

	/**
	 * How the log stands.
	 *
	 * @param sealed up to which position it is sealed
	 * @param sealedAt when it was sealed last
	 * @param waiting how many entries are not sealed yet
	 * @param endMissing whether it does not reach its anchor: the end was cut off
	 * @param verifiedAt when it was verified last
	 * @param verified the result in words: {@code intact}, or the first fault
	 */
	record State(long sealed, @Nullable Instant sealedAt, long waiting, boolean endMissing,
			@Nullable Instant verifiedAt, @Nullable String verified) {

		public boolean intact() {
			return !this.endMissing && (this.verified == null || this.verified.startsWith("intact"));
		}

	}

	/**
	 * The newest first.
	 * @param before the entry after which the list goes on; none for its beginning
	 */
	List<Row> newest(Wanted wanted, @Nullable Place before, int most);

	/** All of them, the oldest first, one at a time, however many. */
	void each(Wanted wanted, Consumer<Row> reader);

	/** The kinds of entry that there are, in order. */
	List<String> kinds();

	/** Who opened or changed a patient's record, the latest day first. */
	List<Opening> ofPatient(UUID patient);

	State state();

}
