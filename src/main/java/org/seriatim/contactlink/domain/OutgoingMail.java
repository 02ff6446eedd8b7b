package org.seriatim.contactlink.domain;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Properties;

import jakarta.mail.MessagingException;
import jakarta.mail.Session;
import jakarta.mail.internet.MimeMessage;
import org.springframework.mail.javamail.MimeMessageHelper;

/**
 * A mail that knows whether a server was given it. Until its content is written to the
 * server, which comes last, no server can have taken it.
 */
final class OutgoingMail extends MimeMessage {

	private volatile boolean given;

	private OutgoingMail() {
		super(Session.getInstance(new Properties()));
	}

	/**
	 * @param messageId the same at each attempt
	 * @throws MessagingException if one of the addresses is none
	 */
	static OutgoingMail of(OutboxText text, String sender, String recipient, String messageId)
			throws MessagingException {
		var mail = new OutgoingMail();
		var parts = new MimeMessageHelper(mail, false, StandardCharsets.UTF_8.name());
		parts.setValidateAddresses(true);
		parts.setFrom(sender);
		parts.setTo(recipient);
		parts.setSubject(text.subject());
		parts.setText(text.body());
		mail.setHeader("Message-ID", messageId);
		// RFC 3834: no answer by a machine is wanted
		mail.setHeader("Auto-Submitted", "auto-generated");
		if (text.optOut() != null) {
			// RFC 8058
			mail.setHeader("List-Unsubscribe", "<" + text.optOut() + ">");
			mail.setHeader("List-Unsubscribe-Post", "List-Unsubscribe=One-Click");
		}
		return mail;
	}

	boolean wasGiven() {
		return this.given;
	}

	@Override
	public void writeTo(OutputStream out, String[] leftOut) throws IOException, MessagingException {
		this.given = true;
		super.writeTo(out, leftOut);
	}

	/* Else another would be made each time that headers are put in order. */
	@Override
	protected void updateMessageID() {
	}

}
