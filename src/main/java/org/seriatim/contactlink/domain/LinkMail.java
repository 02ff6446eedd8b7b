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
final class LinkMail extends MimeMessage {

	private volatile boolean given;

	private LinkMail() {
		super(Session.getInstance(new Properties()));
	}

	/**
	 * @param link the address that the patient opens
	 * @throws MessagingException if one of the addresses is none
	 */
	static LinkMail of(LinkSettings settings, String sender, String recipient, String link, String messageId)
			throws MessagingException {
		var mail = new LinkMail();
		var parts = new MimeMessageHelper(mail, false, StandardCharsets.UTF_8.name());
		parts.setValidateAddresses(true);
		parts.setFrom(sender);
		parts.setTo(recipient);
		parts.setSubject(settings.writtenSubject());
		parts.setText(settings.writtenBody(link));
		mail.setHeader("Message-ID", messageId);
		// RFC 3834: no answer by a machine is wanted
		mail.setHeader("Auto-Submitted", "auto-generated");
		// RFC 8058
		mail.setHeader("List-Unsubscribe", "<" + link + "/no-mail>");
		mail.setHeader("List-Unsubscribe-Post", "List-Unsubscribe=One-Click");
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
