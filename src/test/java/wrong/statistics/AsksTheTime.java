package wrong.statistics;

import java.time.Clock;
import java.time.LocalDate;

public final class AsksTheTime {

	public LocalDate day(Clock clock) {
		return LocalDate.now(clock);
	}

}
