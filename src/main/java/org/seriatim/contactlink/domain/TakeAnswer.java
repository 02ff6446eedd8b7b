package org.seriatim.contactlink.domain;

import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.Collection;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.finding.PatientReport;
import org.seriatim.finding.PatientReports;
import org.seriatim.finding.RedFlagSign;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Takes what a patient sends by a link. */
@Service
public class TakeAnswer {

	/** More than a patient has to tell, and less than what a machine sends. */
	static final int MOST_A_DAY = 30;

	private final JdbcClient database;

	private final PatientReports reports;

	private final AuditLog audit;

	private final Clock clock;

	TakeAnswer(JdbcClient database, PatientReports reports, AuditLog audit, Clock clock) {
		this.database = database;
		this.reports = reports;
		this.audit = audit;
		this.clock = clock;
	}

	/** What became of an answer. */
	public enum Outcome {

		TAKEN,
		/** It had been taken before. */
		KNOWN,
		/** The link was ended, by somebody else just now. */
		OVER,
		/** Too many were sent by this link. */
		TOO_MANY

	}

	/**
	 * Raises the caution of a possible emergency before anything else of an answer is
	 * looked at; committed by itself. An answer that had been taken raises none again,
	 * since a practitioner may have closed it.
	 */
	public void alarm(PatientLink link, UUID form, Set<RedFlagSign> signs) {
		if (!signs.isEmpty() && !isKnown(link, form)) {
			this.reports.alarm(link.patient(), signs);
		}
	}

	/**
	 * Records an answer with the contact that it becomes and what follows for the advice,
	 * all or nothing.
	 */
	@Transactional
	public Outcome take(PatientLink link, LinkAnswer answer) {
		// one at a time, so that the same one sent twice at once is seen
		var ended = this.database.sql("select ended_at is not null from contact_link where id = :link for update")
			.param("link", link.id().value())
			.query(Boolean.class)
			.optional()
			.orElse(true);
		if (isKnown(link, answer.form())) {
			return Outcome.KNOWN;
		}
		if (ended) {
			return Outcome.OVER;
		}
		if (sentSinceYesterday(link) >= MOST_A_DAY) {
			return Outcome.TOO_MANY;
		}
		var contact = this.reports
			.take(new PatientReport(link.session(), answer.lumps(), answer.regions(), answer.painNrs(), answer.note()));
		var id = UUID.randomUUID();
		this.database
			.sql("""
					insert into link_answer (id, link_id, patient_id, contact_id, form_id, received_at, signs, lumps, regions,
						pain_nrs, said)
					values (:id, :link, :patient, :contact, :form, :now, string_to_array(:signs, ','), :lumps,
						string_to_array(:regions, ','), :pain, :said)""")
			.param("id", id)
			.param("link", link.id().value())
			.param("patient", link.patient().value())
			.param("contact", contact.value())
			.param("form", answer.form())
			.param("now", OffsetDateTime.now(this.clock))
			.param("signs", words(answer.signs()))
			.param("lumps", (answer.lumps() != null) ? answer.lumps().name().toLowerCase(Locale.ROOT) : null)
			.param("regions", words(answer.regions()))
			.param("pain", answer.painNrs())
			.param("said", answer.said())
			.update();
		this.audit.record(Action.CREATED, "link_answer", id, link.patient().value());
		return Outcome.TAKEN;
	}

	private boolean isKnown(PatientLink link, UUID form) {
		return this.database.sql("select exists (select from link_answer where link_id = :link and form_id = :form)")
			.param("link", link.id().value())
			.param("form", form)
			.query(Boolean.class)
			.single();
	}

	private int sentSinceYesterday(PatientLink link) {
		return this.database.sql("select count(*) from link_answer where link_id = :link and received_at > :since")
			.param("link", link.id().value())
			.param("since", OffsetDateTime.now(this.clock).minus(Duration.ofDays(1)))
			.query(Integer.class)
			.single();
	}

	private static String words(Collection<? extends Enum<?>> constants) {
		return String.join(",",
				constants.stream().map((constant) -> constant.name().toLowerCase(Locale.ROOT)).sorted().toList());
	}

}
