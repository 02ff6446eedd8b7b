package org.seriatim.screening.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.HashSet;
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
import org.seriatim.screening.ListedItem;
import org.seriatim.screening.ScreeningItem.Asked;
import org.seriatim.screening.ScreeningItem.Level;
import org.seriatim.screening.ScreeningList;
import org.seriatim.screening.domain.ListRefused.Rule;
import org.seriatim.shell.StaleVersion;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The versions of what the clinic asks before a session. */
@Service
@Transactional(readOnly = true)
public class ScreeningLists {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	ScreeningLists(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
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
	public ScreeningList current() {
		return list(this.database.sql("select max(number) from screening_list").query(Integer.class).single());
	}

	/** A version by its number. */
	public Optional<ScreeningList> byNumber(int number) {
		return history().stream().anyMatch((version) -> version.number() == number) ? Optional.of(list(number))
				: Optional.empty();
	}

	/** The version that was in force at the end of a day of the clinic. */
	ScreeningList inForceOn(LocalDate day) {
		return list(
				this.database.sql("select coalesce(max(number), 1) from screening_list where published_at < :endOfDay")
					.param("endOfDay", day.plusDays(1).atStartOfDay(this.clock.getZone()).toOffsetDateTime())
					.query(Integer.class)
					.single());
	}

	/** All versions, newest first. */
	public List<Published> history() {
		return this.database
			.sql("select number, published_at, published_by, reason from screening_list order by number desc")
			.query(ScreeningLists::published)
			.list();
	}

	/**
	 * Publishes the next version; the ones before it stay as they are.
	 * @param list the clinic's items, its number being the one that the form started from
	 * @param reason why, in the words of who publishes it
	 * @throws NothingNew if nothing differs from the version in force
	 * @throws ListRefused if it breaks a rule
	 * @throws StaleVersion if somebody else published one in the meantime
	 */
	@Transactional
	public void publish(ScreeningList list, String reason) {
		this.database.sql("lock table screening_list in share row exclusive mode").update();
		var current = current();
		var newest = history().get(0);
		StaleVersion.unlessSame((long) list.number(), (long) current.number(),
				new Recorded(newest.at(), newest.by(), null));
		if (list.items().equals(current.items())) {
			throw new NothingNew();
		}
		current.items().forEach((before) -> requireKept(before, list));
		requireDifferent(list);
		insert(new ScreeningList(current.number() + 1, list.items()), reason);
		this.audit.record(Action.ADMINISTERED, "screening_list", null, null, "version " + (current.number() + 1));
	}

	private static void requireKept(ListedItem before, ScreeningList list) {
		var after = list.item(before.word()).orElseThrow(() -> new ListRefused(Rule.ITEM_LOST, before.word()));
		if (!before.isOwn() && (after.level() != before.level() || after.asked() != before.asked())) {
			throw new ListRefused(Rule.STANDARD_ITEM_CHANGED, before.word());
		}
		if (!before.isFixed()) {
			return;
		}
		if (!after.isInUse() || !after.question().equals(before.question())) {
			throw new ListRefused(Rule.FIXED_ITEM_CHANGED, before.word());
		}
		if (after.validDays() > before.standard().orElseThrow().validDays()) {
			throw new ListRefused(Rule.FIXED_ITEM_VALID_LONGER, before.word());
		}
	}

	private static void requireDifferent(ScreeningList list) {
		var questions = new HashSet<String>();
		list.items()
			.stream()
			.filter((item) -> item.isInUse() && !questions.add(item.question().toLowerCase(Locale.ROOT)))
			.findFirst()
			.ifPresent((item) -> {
				throw new ListRefused(Rule.ASKED_TWICE, item.word());
			});
	}

	private void insert(ScreeningList list, String reason) {
		this.database.sql("insert into screening_list values (:number, :now, :by, :reason)")
			.param("number", list.number())
			.param("now", OffsetDateTime.now(this.clock))
			.param("by", this.staff.id().map(StaffId::value).orElse(null))
			.param("reason", reason)
			.update();
		list.items()
			.forEach((item) -> this.database
				.sql("""
						insert into screening_list_item (list, item, place, question, level, valid_days, asked, switched_off)
						values (:list, :item, :place, :question, :level, :days, :asked, :off)""")
				.param("list", list.number())
				.param("item", item.word())
				.param("place", item.place())
				.param("question", item.question())
				.param("level", item.level().name().toLowerCase(Locale.ROOT))
				.param("days", item.validDays())
				.param("asked", item.asked().name().toLowerCase(Locale.ROOT))
				.param("off", item.switchedOff(), Types.VARCHAR)
				.update());
	}

	private ScreeningList list(int number) {
		return new ScreeningList(number, this.database.sql("""
				select item, question, level, valid_days, asked, switched_off
				from screening_list_item where list = :number order by place""")
			.param("number", number)
			.query((row, index) -> new ListedItem(row.getString("item"), row.getString("question"),
					Level.valueOf(row.getString("level").toUpperCase(Locale.ROOT)), row.getInt("valid_days"),
					Asked.valueOf(row.getString("asked").toUpperCase(Locale.ROOT)), row.getString("switched_off")))
			.list());
	}

	private static Published published(ResultSet row, int index) throws SQLException {
		var by = row.getObject("published_by", UUID.class);
		return new Published(row.getInt("number"), row.getObject("published_at", OffsetDateTime.class).toInstant(),
				(by != null) ? new StaffId(by) : null, row.getString("reason"));
	}

}
