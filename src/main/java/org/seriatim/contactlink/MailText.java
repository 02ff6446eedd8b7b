package org.seriatim.contactlink;

/** What a mail says; plain text. */
public record MailText(String subject, String body) {
}
