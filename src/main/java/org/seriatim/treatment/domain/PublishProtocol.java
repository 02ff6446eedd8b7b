package org.seriatim.treatment.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.ProtocolPublished;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.Protocols;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Publishes the next version of the protocol. */
@Service
public class PublishProtocol {

	private final JdbcClient database;

	private final Protocols protocols;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	PublishProtocol(JdbcClient database, Protocols protocols, AuditLog audit, CurrentStaff staff, Clock clock,
			ApplicationEventPublisher events) {
		this.database = database;
		this.protocols = protocols;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	/**
	 * Publishes the next version; the ones before it stay as they are.
	 * @param shown number of the version that the form started from
	 * @param numbers the clinic's numbers, given the number and the day of the version
	 * @param note why, in the words of who publishes it
	 * @return number of the new version
	 * @throws NothingNew if nothing differs from the version in force
	 * @throws StaleVersion if somebody else published one in the meantime
	 */
	@Transactional
	public int next(int shown, BiFunction<Integer, LocalDate, ProtocolVersion> numbers, String note) {
		this.database.sql("lock table protocol_version in share row exclusive mode").update();
		var current = this.protocols.current();
		StaleVersion.unlessSame((long) shown, (long) current.number(), published(current.number()));
		if (numbers.apply(current.number(), current.publishedOn()).equals(current)) {
			throw new NothingNew();
		}
		var version = numbers.apply(current.number() + 1, LocalDate.now(this.clock));
		insert(version, note, this.staff.id().map(StaffId::value).orElse(null));
		this.audit.record(Action.ADMINISTERED, "protocol_version", null, null, "version " + version.number());
		this.events.publishEvent(new ProtocolPublished(version.number()));
		return version.number();
	}

	private void insert(ProtocolVersion version, String note, @Nullable UUID by) {
		var contactDays = version.contactDays()
			.stream()
			.map(String::valueOf)
			.collect(Collectors.joining(",", "{", "}"));
		this.database.sql("""
				insert into protocol_version (number, published_at, published_by, note, base_interval_days, window_days,
					extended_interval_days, persistence_threshold_days, settling_margin_days, clearing_probability,
					curve_minimum_lumps, repeatability_minimum_pairs, repeatability_minimum_patients,
					plateau_from_session, plateau_minimum_scars, skin_shift_thin_days, skin_shift_medium_days,
					skin_shift_thick_days, contact_days, contact_repeat_days)
				values (:number, :now, :by, :note, :base, :window, :extended, :persistence, :settling, :probability,
					:curveLumps, :pairs, :pairPatients, :plateauSessions, :plateauScars, :thin, :medium, :thick,
					cast(:contactDays as int[]), :contactEvery)""")
			.param("number", version.number())
			.param("now", OffsetDateTime.now(this.clock))
			.param("by", by)
			.param("note", note)
			.param("base", version.baseDays())
			.param("window", version.windowDays())
			.param("extended", version.extendedDays())
			.param("persistence", version.persistenceThresholdDays())
			.param("settling", version.settlingMarginDays())
			.param("probability", version.clearingProbability())
			.param("curveLumps", version.curveLumps())
			.param("pairs", version.repeatabilityPairs())
			.param("pairPatients", version.repeatabilityPatients())
			.param("plateauSessions", version.plateauSessions())
			.param("plateauScars", version.plateauScars())
			.param("thin", version.skinShift().thin())
			.param("medium", version.skinShift().medium())
			.param("thick", version.skinShift().thick())
			.param("contactDays", contactDays)
			.param("contactEvery", version.contactEveryDays())
			.update();
	}

	private Recorded published(int number) {
		return this.database.sql("select published_at, published_by from protocol_version where number = :number")
			.param("number", number)
			.query((row, index) -> {
				var by = row.getObject("published_by", UUID.class);
				return new Recorded(row.getObject("published_at", OffsetDateTime.class).toInstant(),
						(by != null) ? new StaffId(by) : null, null);
			})
			.single();
	}

}
