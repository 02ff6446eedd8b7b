package org.seriatim;

import java.time.ZoneId;

import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.properties.ConfigurationProperties;

/**
 * The clinic itself.
 *
 * @param zone the time zone in which its days are counted; the machine's where none is
 * given
 */
@ConfigurationProperties("seriatim.clinic")
record ClinicSettings(ZoneId zone) {

	ClinicSettings(@Nullable ZoneId zone) {
		this.zone = (zone != null) ? zone : ZoneId.systemDefault();
	}

}
