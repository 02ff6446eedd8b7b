package org.seriatim.access.domain;

import java.time.Duration;
import java.util.List;

import jakarta.validation.constraints.NotNull;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;
import org.springframework.validation.annotation.Validated;

/**
 * How long what lasts. Idle expiry is the web server's own setting,
 * {@code server.servlet.session.timeout}.
 *
 * @param longest how long a sign-in lasts at most, however busy it is
 * @param warning how long before the end of a sign-in the page warns
 * @param fresh how old a password or code may be for what asks for it again
 * @param invitation how long an invitation waits for whom it was made
 * @param emergency how long an emergency access lasts
 * @param device how long a browser counts as known after its last sign-in
 * @param ownWords words that make a password easy to guess here, such as the clinic's
 * name
 */
@ConfigurationProperties("seriatim.sign-in")
@Validated
public record SignInSettings(@NotNull @DefaultValue("12h") Duration longest,
		@NotNull @DefaultValue("2m") Duration warning, @NotNull @DefaultValue("5m") Duration fresh,
		@NotNull @DefaultValue("72h") Duration invitation, @NotNull @DefaultValue("60m") Duration emergency,
		@NotNull @DefaultValue("180d") Duration device, @DefaultValue List<String> ownWords) {
}
