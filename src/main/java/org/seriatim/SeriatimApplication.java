package org.seriatim;

import java.time.Clock;

import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.boot.context.properties.ConfigurationPropertiesScan;
import org.springframework.context.annotation.Bean;

@SpringBootApplication
@ConfigurationPropertiesScan
public class SeriatimApplication {

	public static void main(String[] args) {
		System.exit(new CommandLineEntry(SeriatimApplication.class).run(args));
	}

	/**
	 * Days are counted where the clinic is, so the clock carries the clinic's time zone.
	 */
	@Bean
	Clock clock(ClinicSettings clinic) {
		return Clock.system(clinic.zone());
	}

}
