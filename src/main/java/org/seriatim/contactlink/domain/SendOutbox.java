package org.seriatim.contactlink.domain;

import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;

import jakarta.mail.MessagingException;
import org.eclipse.angus.mail.smtp.SMTPAddressFailedException;
import org.eclipse.angus.mail.smtp.SMTPSendFailedException;
import org.eclipse.angus.mail.smtp.SMTPSenderFailedException;
import org.jspecify.annotations.Nullable;
import org.seriatim.contactlink.domain.OutboxMessage.Problem;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.MailAuthenticationException;
import org.springframework.mail.MailException;
import org.springframework.mail.MailSendException;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Sends what waits in the outbox. A message is marked as being sent, and that is
 * committed, before the server is spoken to; it goes back to waiting only if the server
 * was never given its content or said that it did not take it. What is found marked
 * later, because the service was killed in between, and what broke off after the content
 * was given, is left to people: it may have gone.
 */
public class SendOutbox {

	private static final Logger log = LoggerFactory.getLogger(SendOutbox.class);

	/** Longer than any of the limits of time towards a server lets one attempt last. */
	static final Duration SURELY_OVER = Duration.ofMinutes(30);

	/** With pauses of up to an hour, about a day. */
	static final int MOST_ATTEMPTS = 28;

	private static final Duration LONGEST_PAUSE = Duration.ofHours(1);

	private static final int MOST_AT_ONCE = 50;

	/** Replies of a server that are for good begin here (RFC 5321, 4.2.1). */
	private static final int FOR_GOOD = 500;

	private final JdbcClient database;

	private final Supplier<@Nullable JavaMailSender> server;

	private final KeepLinkSettings settings;

	private final OutboxTexts texts;

	private final Outbox outbox;

	private final MailChoices choices;

	private final TransactionTemplate transaction;

	private final Clock clock;

	SendOutbox(JdbcClient database, Supplier<@Nullable JavaMailSender> server, KeepLinkSettings settings,
			OutboxTexts texts, Outbox outbox, MailChoices choices, PlatformTransactionManager transactions,
			Clock clock) {
		this.database = database;
		this.server = server;
		this.settings = settings;
		this.texts = texts;
		this.outbox = outbox;
		this.choices = choices;
		this.transaction = new TransactionTemplate(transactions);
		this.transaction.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
		this.clock = clock;
	}

	private record Claimed(UUID id, int attempts, String messageId) {
	}

	private sealed interface Outcome {

		/** The server took it. */
		record Taken() implements Outcome {
		}

		/** It is tried again later. */
		record Later(Problem problem) implements Outcome {
		}

		/** People have to look. */
		record Failed(Problem problem) implements Outcome {
		}

		/** It is not to go any more. */
		record Withdrawn(Problem problem) implements Outcome {
		}

	}

	/** Whether there is a server to send by, and an address that mail comes from. */
	public boolean isSetUp() {
		return this.server.get() != null && this.settings.current().sender() != null;
	}

	/**
	 * Sends what is due.
	 * @return how many messages were tried
	 */
	public int sendDue() {
		leaveInterruptedToPeople();
		var sender = this.server.get();
		if (sender == null || !isSetUp()) {
			return 0;
		}
		var tried = 0;
		for (var next = claim(); next.isPresent(); next = (tried < MOST_AT_ONCE) ? claim() : Optional.empty()) {
			tried++;
			var message = next.get();
			settle(message, send(sender, message));
		}
		return tried;
	}

	private void leaveInterruptedToPeople() {
		this.transaction.executeWithoutResult((status) -> this.database.sql("""
				update outbox_message set state = 'failed', problem = 'unclear'
				where state = 'sending' and claimed_at < :then""").param("then", now().minus(SURELY_OVER)).update());
	}

	private Optional<Claimed> claim() {
		return this.transaction.execute((status) -> this.database.sql("""
				update outbox_message set state = 'sending', next_attempt_at = null, attempts = attempts + 1,
					claimed_at = :now, message_id = coalesce(message_id, :fresh)
				where id = (select id from outbox_message where state = 'waiting' and next_attempt_at <= :now
					order by next_attempt_at, id limit 1 for update skip locked)
				returning id, attempts, message_id""")
			.param("now", now())
			.param("fresh", "<" + UUID.randomUUID() + "@" + domainOfSender() + ">")
			.query((row, index) -> new Claimed(row.getObject("id", UUID.class), row.getInt("attempts"),
					row.getString("message_id")))
			.optional());
	}

	private String domainOfSender() {
		var sender = this.settings.current().sender();
		return (sender != null) ? sender.substring(sender.lastIndexOf('@') + 1) : "localhost";
	}

	private Outcome send(JavaMailSender server, Claimed claimed) {
		var found = this.outbox.byId(claimed.id());
		if (found.isEmpty()) {
			// erased a moment ago
			return new Outcome.Withdrawn(Problem.LINK_OVER);
		}
		var message = found.get();
		if (this.choices.refuses(message.patient(), message.purpose())) {
			return new Outcome.Withdrawn(Problem.OPTED_OUT);
		}
		var text = this.texts.of(message);
		if (text.isEmpty()) {
			return new Outcome.Withdrawn((message.purpose() == MailPurpose.LINK) ? Problem.LINK_OVER : Problem.NOT_DUE);
		}
		OutgoingMail mail;
		try {
			mail = OutgoingMail.of(text.get(), String.valueOf(this.settings.current().sender()), message.recipient(),
					claimed.messageId());
		}
		catch (MessagingException ex) {
			return new Outcome.Failed(Problem.NO_ADDRESS);
		}
		try {
			server.send(mail);
			return new Outcome.Taken();
		}
		catch (MailAuthenticationException ex) {
			return new Outcome.Later(Problem.NOT_LET_IN);
		}
		catch (MailException ex) {
			return outcome(ex, mail);
		}
	}

	private static Outcome outcome(MailException ex, OutgoingMail mail) {
		var reply = reply(ex);
		if (reply.isPresent()) {
			return (reply.get() >= FOR_GOOD) ? new Outcome.Failed(Problem.REFUSED) : new Outcome.Later(Problem.LATER);
		}
		if (!mail.wasGiven()) {
			return new Outcome.Later(Problem.NO_ANSWER);
		}
		// all was said and done but the goodbye
		return (ex instanceof MailSendException failed && failed.getMessageExceptions().length == 0)
				? new Outcome.Taken() : new Outcome.Failed(Problem.UNCLEAR);
	}

	/** What the server replied when it did not take the message, if it did reply. */
	private static Optional<Integer> reply(MailException ex) {
		return (ex instanceof MailSendException failed)
				? Arrays.stream(failed.getMessageExceptions()).flatMap((one) -> reply(one).stream()).findFirst()
				: Optional.empty();
	}

	private static Optional<Integer> reply(@Nullable Exception ex) {
		for (var one = ex; one != null; one = (one instanceof MessagingException message) ? message.getNextException()
				: null) {
			var code = (one instanceof SMTPAddressFailedException address) ? address.getReturnCode()
					: (one instanceof SMTPSenderFailedException sender) ? sender.getReturnCode()
							: (one instanceof SMTPSendFailedException content) ? content.getReturnCode() : -1;
			if (code > 0) {
				return Optional.of(code);
			}
		}
		return Optional.empty();
	}

	private void settle(Claimed message, Outcome outcome) {
		if (outcome instanceof Outcome.Taken) {
			keep(message, "sent", null, null);
		}
		else if (outcome instanceof Outcome.Withdrawn withdrawn) {
			keep(message, "withdrawn", withdrawn.problem(), null);
		}
		else if (outcome instanceof Outcome.Failed failed) {
			log.warn("Mail {} did not go: {}", message.id(), failed.problem().word());
			keep(message, "failed", failed.problem(), null);
		}
		else if (outcome instanceof Outcome.Later later) {
			log.info("Mail {} did not go yet: {}, attempt {}", message.id(), later.problem().word(),
					message.attempts());
			if (message.attempts() >= MOST_ATTEMPTS) {
				keep(message, "failed", Problem.GAVE_UP, null);
			}
			else {
				keep(message, "waiting", later.problem(), now().plus(pause(message.attempts())));
			}
		}
	}

	/**
	 * One minute after the first attempt, then twice as long each time, up to an hour.
	 */
	static Duration pause(int attempts) {
		var doubled = Duration.ofMinutes(1L << Math.min(attempts - 1, 6));
		return (doubled.compareTo(LONGEST_PAUSE) < 0) ? doubled : LONGEST_PAUSE;
	}

	private void keep(Claimed message, String state, @Nullable Problem problem, @Nullable OffsetDateTime next) {
		this.transaction.executeWithoutResult((status) -> this.database.sql("""
				update outbox_message set state = :state, problem = :problem, next_attempt_at = :next,
					sent_at = case when :state = 'sent' then cast(:now as timestamptz) end
				where id = :id and state = 'sending'""")
			.param("state", state)
			.param("problem", (problem != null) ? problem.name().toLowerCase(Locale.ROOT) : null)
			.param("next", next)
			.param("now", now())
			.param("id", message.id())
			.update());
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

}
