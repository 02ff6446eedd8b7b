package org.seriatim.contactlink.domain;

import java.time.Clock;

import org.springframework.beans.factory.ObjectProvider;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.transaction.PlatformTransactionManager;

/** Joins the outbox to the mail server, if one is configured by {@code spring.mail}. */
@Configuration(proxyBeanMethods = false)
class OutboxConfiguration {

	@Bean
	SendOutbox sendOutbox(JdbcClient database, ObjectProvider<JavaMailSender> server, KeepLinkSettings settings,
			OutboxTexts texts, Outbox outbox, MailChoices choices, PlatformTransactionManager transactions,
			Clock clock) {
		return new SendOutbox(database, server::getIfAvailable, settings, texts, outbox, choices, transactions, clock);
	}

}
