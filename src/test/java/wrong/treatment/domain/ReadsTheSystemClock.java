package wrong.treatment.domain;

import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Calendar;
import java.util.Date;
import java.util.List;

public final class ReadsTheSystemClock {

	public List<Object> inEveryWay() {
		return List.of(Instant.now(), LocalDate.now(ZoneOffset.UTC), System.currentTimeMillis(), Clock.systemUTC(),
				new Date(), Calendar.getInstance());
	}

	/** Allowed. */
	public Instant asItShouldBe(Clock clock) {
		return Instant.now(clock);
	}

}
