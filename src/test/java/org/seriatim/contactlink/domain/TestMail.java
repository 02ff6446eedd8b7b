package org.seriatim.contactlink.domain;

import java.time.Clock;
import java.util.Map;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.GreenMailUtil;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.internet.MimeMessage;
import org.springframework.beans.factory.BeanFactory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.javamail.JavaMailSenderImpl;
import org.springframework.transaction.PlatformTransactionManager;

/** A real SMTP server in this process, and a sender that knows it. */
public final class TestMail implements AutoCloseable {

	private static final int PATIENCE_MS = 2000;

	private final GreenMail server = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));

	private final SendOutbox sending;

	private TestMail(BeanFactory service) {
		this.server.start();
		var sender = new JavaMailSenderImpl();
		sender.setHost("127.0.0.1");
		sender.setPort(this.server.getSmtp().getPort());
		sender.getJavaMailProperties()
			.putAll(Map.of("mail.smtp.connectiontimeout", PATIENCE_MS, "mail.smtp.timeout", PATIENCE_MS,
					"mail.smtp.writetimeout", PATIENCE_MS));
		this.sending = new SendOutbox(service.getBean(JdbcClient.class), () -> sender,
				service.getBean(KeepLinkSettings.class), service.getBean(OutboxTexts.class),
				service.getBean(Outbox.class), service.getBean(MailChoices.class),
				service.getBean(PlatformTransactionManager.class), service.getBean(Clock.class));
	}

	/** Starts a server for the outbox of this service. */
	public static TestMail start(BeanFactory service) {
		return new TestMail(service);
	}

	/** Sends what is due now. */
	public void send() {
		this.sending.sendDue();
	}

	/** All that arrived, the oldest first. */
	public MimeMessage[] arrived() {
		return this.server.getReceivedMessages();
	}

	/** What a mail says, as a person reads it. */
	public static String textOf(MimeMessage mail) {
		return GreenMailUtil.getBody(mail).replace("=\r\n", "").replace("=3D", "=").replace("\r\n", "\n");
	}

	@Override
	public void close() {
		this.server.stop();
	}

}
