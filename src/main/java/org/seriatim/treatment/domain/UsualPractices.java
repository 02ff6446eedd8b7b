package org.seriatim.treatment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.domain.UsualPractice.Range;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The versions of the clinic's usual practice. */
@Service
@Transactional(readOnly = true)
public class UsualPractices {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	UsualPractices(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/**
	 * When, by whom and why a version was published.
	 *
	 * @param by nobody for the version that a clinic starts with
	 */
	public record Published(int number, Instant at, @Nullable StaffId by, String reason) {
	}

	/** The version in force. */
	public UsualPractice current() {
		return practice(number("select max(number) from usual_practice"));
	}

	/** A version by its number. */
	public Optional<UsualPractice> byNumber(int number) {
		return history().stream().anyMatch((version) -> version.number() == number) ? Optional.of(practice(number))
				: Optional.empty();
	}

	/** The version that was in force at the end of a day of the clinic. */
	public UsualPractice inForceOn(LocalDate day) {
		return practice(
				this.database.sql("select coalesce(max(number), 1) from usual_practice where published_at < :endOfDay")
					.param("endOfDay", day.plusDays(1).atStartOfDay(this.clock.getZone()).toOffsetDateTime())
					.query(Integer.class)
					.single());
	}

	/** All versions, newest first. */
	public List<Published> history() {
		return this.database
			.sql("select number, published_at, published_by, reason from usual_practice order by number desc")
			.query(UsualPractices::published)
			.list();
	}

	/**
	 * Publishes the next version; the ones before it stay as they are.
	 * @param practice the clinic's values, its number being the one that the form started
	 * from
	 * @param reason why, in the words of who publishes it
	 * @throws NothingNew if nothing differs from the version in force
	 * @throws StaleVersion if somebody else published one in the meantime
	 */
	@Transactional
	public void publish(UsualPractice practice, String reason) {
		this.database.sql("lock table usual_practice in share row exclusive mode").update();
		var current = current();
		var newest = history().get(0);
		StaleVersion.unlessSame((long) practice.number(), (long) current.number(),
				new Recorded(newest.at(), newest.by(), null));
		if (practice.ranges().equals(current.ranges()) && practice.notes().equals(current.notes())) {
			throw new NothingNew();
		}
		insert(current.number() + 1, practice, reason);
		this.audit.record(Action.ADMINISTERED, "usual_practice", null, null, "version " + (current.number() + 1));
	}

	private void insert(int number, UsualPractice practice, String reason) {
		this.database.sql("insert into usual_practice values (:number, :now, :by, :reason)")
			.param("number", number)
			.param("now", OffsetDateTime.now(this.clock))
			.param("by", this.staff.id().map(StaffId::value).orElse(null))
			.param("reason", reason)
			.update();
		practice.ranges()
			.forEach((measure, range) -> this.database
				.sql("insert into usual_range values (:number, :measure, :low, :high)")
				.param("number", number)
				.param("measure", measure.word())
				.param("low", range.low())
				.param("high", range.high())
				.update());
		practice.notes()
			.forEach((topic, note) -> this.database.sql("insert into usual_note values (:number, :topic, :note)")
				.param("number", number)
				.param("topic", topic.word())
				.param("note", note)
				.update());
	}

	private UsualPractice practice(int number) {
		var ranges = new EnumMap<UsualMeasure, Range>(UsualMeasure.class);
		this.database.sql("select measure, low, high from usual_range where practice = :number")
			.param("number", number)
			.query((row) -> {
				ranges.put(UsualMeasure.valueOf(row.getString("measure").toUpperCase(Locale.ROOT)),
						new Range(row.getBigDecimal("low"), row.getBigDecimal("high")));
			});
		var notes = new EnumMap<UsualTopic, String>(UsualTopic.class);
		this.database.sql("select topic, note from usual_note where practice = :number")
			.param("number", number)
			.query((row) -> {
				notes.put(UsualTopic.valueOf(row.getString("topic").toUpperCase(Locale.ROOT)), row.getString("note"));
			});
		return new UsualPractice(number, ranges, notes);
	}

	private int number(String query) {
		return this.database.sql(query).query(Integer.class).single();
	}

	private static Published published(ResultSet row, int index) throws SQLException {
		var by = row.getObject("published_by", UUID.class);
		return new Published(row.getInt("number"), row.getObject("published_at", OffsetDateTime.class).toInstant(),
				(by != null) ? new StaffId(by) : null, row.getString("reason"));
	}

}
