package org.seriatim.contactlink.domain;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Map;
import java.util.concurrent.CompletableFuture;

import com.icegreen.greenmail.store.FolderException;
import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.GreenMailUtil;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.Message;
import jakarta.mail.MessagingException;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.seriatim.contactlink.TestLinks;
import org.seriatim.patient.PatientId;
import org.seriatim.support.PageTest;
import org.seriatim.support.TestClock;
import org.seriatim.treatment.TestTreatment;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.javamail.JavaMailSenderImpl;
import org.springframework.transaction.PlatformTransactionManager;

import static org.assertj.core.api.Assertions.assertThat;

/** Mail to a real SMTP server in this process: nothing is lost, nothing goes twice. */
@PageTest
class OutboxTests {

	private static final int PATIENCE_MS = 500;

	@Autowired
	JdbcClient database;

	@Autowired
	KeepLinkSettings settings;

	@Autowired
	ContactLinks links;

	@Autowired
	MailChoices choices;

	@Autowired
	Outbox outbox;

	@Autowired
	OutboxTexts texts;

	@Autowired
	PlatformTransactionManager transactions;

	@Autowired
	TestClock clock;

	private final GreenMail server = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));

	private final JavaMailSenderImpl sender = new JavaMailSenderImpl();

	private PatientId patient;

	private SendOutbox sending;

	@BeforeEach
	void queueAMessage() {
		this.server.start();
		this.sender.setHost("127.0.0.1");
		this.sender.setPort(this.server.getSmtp().getPort());
		this.sender.getJavaMailProperties()
			.putAll(Map.of("mail.smtp.connectiontimeout", PATIENCE_MS, "mail.smtp.timeout", PATIENCE_MS,
					"mail.smtp.writetimeout", PATIENCE_MS));
		this.sending = new SendOutbox(this.database, () -> this.sender, this.settings, this.texts, this.outbox,
				this.choices, this.transactions, this.clock);
		TestLinks.setUp(this.database);
		var treatment = new TestTreatment(this.database);
		this.patient = treatment.patient("K1-SECRET");
		this.database.sql("update patient set family_name = 'Quill', email = 'ada@example.org', version = version + 1")
			.update();
		treatment.session(treatment.series(this.patient), 1, "2026-11-02");
		this.links.make(this.patient);
	}

	@AfterEach
	void stop() {
		this.server.stop();
	}

	@Test
	void goesOnceAndCarriesNothingButTheLink() throws MessagingException {
		this.sending.sendDue();
		this.sending.sendDue();
		this.clock.advance(Duration.ofDays(1));
		this.sending.sendDue();
		assertThat(this.server.getReceivedMessages()).hasSize(1);
		var mail = this.server.getReceivedMessages()[0];
		var address = this.links.addressOf(this.links.current(this.patient).orElseThrow().id());
		assertThat(mail.getSubject()).isEqualTo("A short question");
		assertThat(GreenMailUtil.getBody(mail).replace("=\r\n", "").replace("=3D", "=")).contains(address,
				"Clinic by the Lake", "+00 555 0101");
		assertThat(GreenMailUtil.getWholeMessage(mail)).doesNotContain("Quill", "K1", "lump", "session", "2026-11-02");
		assertThat(mail.getRecipients(Message.RecipientType.TO)[0]).hasToString("ada@example.org");
		assertThat(mail.getFrom()[0]).hasToString("desk@clinic.example");
		assertThat(mail.getMessageID()).isEqualTo(row().get("message_id"));
		assertThat(mail.getHeader("List-Unsubscribe")[0]).isEqualTo("<" + address + "/no-mail>");
		assertThat(row()).containsEntry("state", "sent").containsEntry("attempts", 1);
	}

	@Test
	void waitsForAServerThatIsDown() {
		this.server.stop();
		this.sending.sendDue();
		assertThat(row()).containsEntry("state", "waiting")
			.containsEntry("attempts", 1)
			.containsEntry("problem", "no_answer");
		this.sending.sendDue();
		assertThat(row()).as("not before its time").containsEntry("attempts", 1);
		this.clock.advance(Duration.ofMinutes(1));
		this.sending.sendDue();
		assertThat(row()).containsEntry("attempts", 2);
		this.server.start();
		this.sender.setPort(this.server.getSmtp().getPort());
		this.clock.advance(Duration.ofMinutes(1));
		this.sending.sendDue();
		assertThat(this.server.getReceivedMessages()).as("the pause has doubled").isEmpty();
		this.clock.advance(Duration.ofMinutes(1));
		this.sending.sendDue();
		assertThat(this.server.getReceivedMessages()).hasSize(1);
		assertThat(row()).containsEntry("state", "sent").containsEntry("problem", null);
	}

	@Test
	void givesUpAfterAboutADayAndIsShownThen() {
		this.server.stop();
		for (int i = 0; i < 40; i++) {
			this.sending.sendDue();
			this.clock.advance(Duration.ofHours(1));
		}
		assertThat(row()).containsEntry("state", "failed")
			.containsEntry("problem", "gave_up")
			.containsEntry("attempts", SendOutbox.MOST_ATTEMPTS);
	}

	@Test
	void leavesARefusedRecipientToPeople() throws IOException {
		try (var server = new ScriptedServer(Map.of("RCPT", "550 5.1.1 no such user"))) {
			this.sender.setPort(server.port());
			this.sending.sendDue();
			assertThat(row()).containsEntry("state", "failed").containsEntry("problem", "refused");
		}
		this.sender.setPort(this.server.getSmtp().getPort());
		this.clock.advance(Duration.ofHours(2));
		this.sending.sendDue();
		assertThat(this.server.getReceivedMessages()).as("not by itself").isEmpty();
		assertThat(this.outbox.again(this.outbox.latestTo(this.patient).orElseThrow().id())).isTrue();
		this.sending.sendDue();
		assertThat(this.server.getReceivedMessages()).hasSize(1);
	}

	@Test
	void comesAgainWhenTheServerSaysLater() throws IOException {
		try (var server = new ScriptedServer(Map.of("RCPT", "451 4.7.1 greylisted"))) {
			this.sender.setPort(server.port());
			this.sending.sendDue();
		}
		assertThat(row()).containsEntry("state", "waiting").containsEntry("problem", "later");
	}

	@Test
	void comesAgainWhenTheServerRefusedTheContentForNow() throws IOException {
		try (var server = new ScriptedServer(Map.of(".", "452 4.3.1 disk full"))) {
			this.sender.setPort(server.port());
			this.sending.sendDue();
		}
		assertThat(row()).containsEntry("state", "waiting").containsEntry("problem", "later");
	}

	@Test
	void comesAgainWhenTheServerIsTooSlowToGreet() throws IOException {
		try (var server = new ScriptedServer(Map.of("GREETING", ScriptedServer.SILENCE))) {
			this.sender.setPort(server.port());
			this.sending.sendDue();
		}
		assertThat(row()).containsEntry("state", "waiting").containsEntry("problem", "no_answer");
	}

	/*
	 * The server may have taken it: sending it again by itself would be sending it twice.
	 */
	@Test
	void leavesToPeopleWhatBrokeOffAfterTheContent() throws IOException {
		try (var server = new ScriptedServer(Map.of(".", ScriptedServer.SILENCE))) {
			this.sender.setPort(server.port());
			this.sending.sendDue();
		}
		assertThat(row()).containsEntry("state", "failed").containsEntry("problem", "unclear");
		this.sender.setPort(this.server.getSmtp().getPort());
		this.clock.advance(Duration.ofHours(2));
		this.sending.sendDue();
		assertThat(this.server.getReceivedMessages()).isEmpty();
	}

	@Test
	void leavesToPeopleWhatWasBeingSentWhenTheServiceWasKilled() {
		this.database.sql("""
				update outbox_message set state = 'sending', next_attempt_at = null, claimed_at = ?, attempts = 1""")
			.param(java.time.OffsetDateTime.now(this.clock))
			.update();
		this.sending.sendDue();
		assertThat(row()).as("it may still be going on").containsEntry("state", "sending");
		this.clock.advance(SendOutbox.SURELY_OVER.plusSeconds(1));
		this.sending.sendDue();
		assertThat(row()).containsEntry("state", "failed").containsEntry("problem", "unclear");
		assertThat(this.server.getReceivedMessages()).isEmpty();
	}

	@Test
	void goesOnceThoughTwoSendAtOnce() {
		for (int i = 0; i < 10; i++) {
			this.database
				.sql("""
						insert into outbox_message (id, patient_id, purpose, link_id, recipient, state, queued_at, next_attempt_at)
						select gen_random_uuid(), patient_id, purpose, link_id, recipient, state, queued_at, next_attempt_at
						from outbox_message limit 1""")
				.update();
		}
		var both = CompletableFuture.allOf(CompletableFuture.runAsync(this.sending::sendDue),
				CompletableFuture.runAsync(this.sending::sendDue));
		both.join();
		assertThat(this.server.getReceivedMessages()).hasSize(11);
	}

	@Test
	void staysWhenTheLinkIsOverOrNoMailIsWanted() throws FolderException {
		this.database.sql("update contact_link set ended_at = now(), ended_why = 'revoked'").update();
		this.sending.sendDue();
		assertThat(row()).containsEntry("state", "withdrawn").containsEntry("problem", "link_over");
		assertThat(this.server.getReceivedMessages()).isEmpty();
	}

	@Test
	void doesNothingWithoutAServer() {
		var without = new SendOutbox(this.database, () -> null, this.settings, this.texts, this.outbox, this.choices,
				this.transactions, this.clock);
		assertThat(without.isSetUp()).isFalse();
		assertThat(without.sendDue()).isZero();
		assertThat(row()).containsEntry("state", "waiting").containsEntry("attempts", 0);
	}

	private Map<String, Object> row() {
		return this.database.sql("select * from outbox_message").query().singleRow();
	}

	/** A server that says what a test tells it, or nothing at all. */
	private static final class ScriptedServer implements AutoCloseable {

		static final String SILENCE = "";

		private final Map<String, String> script;

		private final ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());

		ScriptedServer(Map<String, String> script) throws IOException {
			this.script = script;
			var thread = new Thread(this::serve, "scripted SMTP server");
			thread.setDaemon(true);
			thread.start();
		}

		int port() {
			return this.socket.getLocalPort();
		}

		private void serve() {
			try (var client = this.socket.accept()) {
				talk(client);
			}
			catch (IOException ex) {
				// the test is over
			}
		}

		private void talk(Socket client) throws IOException {
			var lines = new BufferedReader(new InputStreamReader(client.getInputStream(), StandardCharsets.UTF_8));
			say(client, "GREETING", "220 here");
			var content = false;
			for (var line = lines.readLine(); line != null; line = lines.readLine()) {
				if (content && !line.equals(".")) {
					continue;
				}
				content = line.equals("DATA");
				var word = line.split("[ :]", 2)[0];
				say(client, word, content ? "354 go on" : word.equals("QUIT") ? "221 bye" : "250 fine");
			}
		}

		private void say(Socket client, String word, String usual) throws IOException {
			var said = this.script.getOrDefault(word, usual);
			if (!said.equals(SILENCE)) {
				client.getOutputStream().write((said + "\r\n").getBytes(StandardCharsets.US_ASCII));
				client.getOutputStream().flush();
			}
		}

		@Override
		public void close() throws IOException {
			this.socket.close();
		}

	}

}
