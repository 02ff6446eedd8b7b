package org.seriatim.appointment.domain;

import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;

/**
 * What a patient's calendar says about the clinic.
 *
 * @param address the clinic's address in one line; none is written where none is given
 */
@ConfigurationProperties("seriatim.calendar")
record CalendarSettings(@Nullable String address) {
}
