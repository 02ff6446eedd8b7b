package org.seriatim.access.web;

import jakarta.validation.constraints.Positive;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;
import org.springframework.validation.annotation.Validated;

/**
 * How many requests are answered in a minute.
 *
 * @param ofAccount of one signed-in account, from wherever it asks
 * @param ofAddress of one network address, for requests of nobody signed in; a clinic
 * often has one address for all of its machines
 */
@ConfigurationProperties("seriatim.requests")
@Validated
record RequestSettings(@Positive @DefaultValue("1200") int ofAccount, @Positive @DefaultValue("300") int ofAddress) {
}
