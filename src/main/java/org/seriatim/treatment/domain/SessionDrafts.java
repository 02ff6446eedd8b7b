package org.seriatim.treatment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.seriatim.screening.NumbingStopped;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Drafts of sessions: written by whoever may not record, settled by a practitioner. A
 * draft is no clinical entry, so no advice changes with it; its earlier versions are kept
 * all the same.
 */
@Service
@Transactional
public class SessionDrafts {

	private static final String DRAFT = """
			select id, patient_id, series_id, content, written_by, written_at, status, version, saved_by_page
			from session_draft\s""";

	private final JdbcClient database;

	private final PatientLock lock;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	SessionDrafts(JdbcClient database, PatientLock lock, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.lock = lock;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	@Transactional(readOnly = true)
	public Optional<SessionDraft> byId(DraftId id) {
		return this.database.sql(DRAFT + "where id = :id")
			.param("id", id.value())
			.query(SessionDrafts::draft)
			.optional();
	}

	/** The drafts that wait for a practitioner, oldest first. */
	@Transactional(readOnly = true)
	public List<SessionDraft> open() {
		return this.database.sql(DRAFT + "where status = 'open' order by written_at, id")
			.query(SessionDrafts::draft)
			.list();
	}

	/** Those of one series. */
	@Transactional(readOnly = true)
	public List<SessionDraft> openOf(SeriesId series) {
		return this.database.sql(DRAFT + "where status = 'open' and series_id = :series order by written_at, id")
			.param("series", series.value())
			.query(SessionDrafts::draft)
			.list();
	}

	/** Keeps what was typed. */
	public DraftId write(SeriesSummary series, String content) {
		var id = DraftId.next();
		this.database.sql("""
				insert into session_draft (id, patient_id, series_id, content, written_by, written_at)
				values (:id, :patient, :series, cast(:content as jsonb), :staff, :now)""")
			.param("id", id.value())
			.param("patient", series.patient().value())
			.param("series", series.id().value())
			.param("content", content)
			.param("staff", writer().value())
			.param("now", OffsetDateTime.now(this.clock))
			.update();
		this.audit.record(Action.CREATED, "session_draft", id.value(), series.patient().value());
		return id;
	}

	/**
	 * Keeps what a page saves by itself while a session is typed. The first time makes
	 * the draft; a page that did not hear so makes no second one.
	 * @param page the one on which it is typed
	 */
	public SessionDraft save(SeriesSummary series, UUID page, String content) {
		this.lock.hold(series.patient());
		var saved = this.database.sql(DRAFT + """
				where status = 'open' and saved_by_page = :page and series_id = :series and written_by = :staff""")
			.param("page", page)
			.param("series", series.id().value())
			.param("staff", writer().value())
			.query(SessionDrafts::draft)
			.optional();
		if (saved.isPresent()) {
			return save(saved.get().id(), saved.get().version(), page, content);
		}
		var id = write(series, content);
		this.database.sql("update session_draft set saved_by_page = :page, version = version + 1 where id = :id")
			.param("page", page)
			.param("id", id.value())
			.update();
		return byId(id).orElseThrow();
	}

	/**
	 * Keeps what a page saves by itself while a draft is typed. What says the same as
	 * before changes nothing.
	 * @param shown the version that the page showed
	 * @param page the one on which it is typed
	 * @throws StaleVersion if another page changed the draft in the meantime
	 */
	public SessionDraft save(DraftId id, @Nullable Long shown, UUID page, String content) {
		var draft = current(id, shown, page);
		var saysTheSame = this.database.sql("""
				select content = cast(:content as jsonb) from session_draft where id = :id""")
			.param("id", id.value())
			.param("content", content)
			.query(Boolean.class)
			.single();
		if (!saysTheSame) {
			replace(draft, page, content);
		}
		return byId(id).orElseThrow();
	}

	/**
	 * Replaces what was typed.
	 * @param shown the version that the form showed
	 * @throws StaleVersion if the draft was changed or settled in the meantime
	 */
	public void rewrite(DraftId id, @Nullable Long shown, String content) {
		rewrite(id, shown, null, content);
	}

	/**
	 * Replaces what was typed.
	 * @param page the one on which it was typed: what it saved by itself is no change of
	 * somebody else
	 * @throws StaleVersion if the draft was changed or settled in the meantime
	 */
	public void rewrite(DraftId id, @Nullable Long shown, @Nullable UUID page, String content) {
		replace(current(id, shown, page), null, content);
	}

	private void replace(SessionDraft draft, @Nullable UUID page, String content) {
		this.database.sql("""
				update session_draft
				set content = cast(:content as jsonb), written_by = :staff, written_at = :now, saved_by_page = :page,
					version = version + 1
				where id = :id""")
			.param("id", draft.id().value())
			.param("content", content)
			.param("staff", writer().value())
			.param("now", OffsetDateTime.now(this.clock))
			.param("page", page, Types.OTHER)
			.update();
		this.audit.record(Action.CORRECTED, "session_draft", draft.id().value(), draft.patient().value());
	}

	/**
	 * Settles a draft of which nothing is recorded. It stays on record as a discarded
	 * one.
	 * @param shown the version that the page showed
	 * @throws StaleVersion if the draft was changed or settled in the meantime
	 */
	public void discard(DraftId id, @Nullable Long shown) {
		discard(id, shown, null);
	}

	/**
	 * Settles a draft of which nothing is recorded, from a page that may have saved it by
	 * itself.
	 * @throws StaleVersion if the draft was changed or settled in the meantime
	 */
	public void discard(DraftId id, @Nullable Long shown, @Nullable UUID page) {
		var draft = current(id, shown, page);
		settle(id, "discarded", null);
		this.audit.record(Action.DECIDED, "session_draft", id.value(), draft.patient().value(), "discarded");
	}

	/** Settles a draft that became a session. */
	void recorded(DraftId id, @Nullable Long shown, @Nullable UUID page, SessionId session) {
		var draft = current(id, shown, page);
		settle(id, "recorded", session.value());
		this.audit.record(Action.DECIDED, "session_draft", id.value(), draft.patient().value(), "recorded");
	}

	/**
	 * Writes the minutes of the cream into the open drafts of that day where nothing is
	 * typed yet, or the minutes as they were known before. What somebody typed stays.
	 */
	@EventListener
	void take(NumbingStopped numbing) {
		var filled = this.database.sql("""
				update session_draft
				set content = jsonb_set(content, '{topicalMinutes}', to_jsonb(cast(:minutes as text))),
					written_by = :staff, written_at = :now, saved_by_page = null, version = version + 1
				where patient_id = :patient and status = 'open' and content ->> 'treatedOn' = :day
					and coalesce(content ->> 'topicalMinutes', '') in ('', :before)
				returning id""")
			.param("minutes", Integer.toString(numbing.minutes()))
			.param("before", (numbing.before() != null) ? numbing.before().toString() : "")
			.param("patient", numbing.patient().value())
			.param("day", numbing.day().toString())
			.param("staff", writer().value())
			.param("now", OffsetDateTime.now(this.clock))
			.query(UUID.class)
			.list();
		filled.forEach((id) -> this.audit.record(Action.CORRECTED, "session_draft", id, numbing.patient().value()));
	}

	private void settle(DraftId id, String status, @Nullable UUID session) {
		this.database.sql("""
				update session_draft
				set status = :status, session_id = :session, settled_by = :staff, settled_at = :now,
					version = version + 1
				where id = :id""")
			.param("id", id.value())
			.param("status", status)
			.param("session", session, Types.OTHER)
			.param("staff", writer().value())
			.param("now", OffsetDateTime.now(this.clock))
			.update();
	}

	/**
	 * Held until the end of the transaction, so that two people cannot both settle it.
	 */
	private SessionDraft current(DraftId id, @Nullable Long shown, @Nullable UUID page) {
		var draft = this.database.sql(DRAFT + "where id = :id for update")
			.param("id", id.value())
			.query(SessionDrafts::draft)
			.optional()
			.orElseThrow();
		var isOwn = page != null && draft.open() && page.equals(draft.savedByPage())
				&& draft.writtenBy().equals(writer());
		if (!isOwn) {
			StaleVersion.unlessSame(shown, draft.version(), new Recorded(draft.writtenAt(), draft.writtenBy(), null));
		}
		if (!draft.open()) {
			throw new DraftSettled();
		}
		return draft;
	}

	private StaffId writer() {
		return this.staff.id().orElseThrow(() -> new IllegalStateException("a draft is written by somebody"));
	}

	private static SessionDraft draft(ResultSet row, int index) throws SQLException {
		return new SessionDraft(new DraftId(row.getObject("id", UUID.class)),
				new PatientId(row.getObject("patient_id", UUID.class)),
				new SeriesId(row.getObject("series_id", UUID.class)), row.getString("content"),
				new StaffId(row.getObject("written_by", UUID.class)),
				row.getObject("written_at", OffsetDateTime.class).toInstant(), row.getString("status").equals("open"),
				row.getLong("version"), row.getObject("saved_by_page", UUID.class));
	}

}
