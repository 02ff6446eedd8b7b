package wrong.statistics;

import org.slf4j.LoggerFactory;

public final class LogsItsResult {

	public double mean(double a, double b) {
		LoggerFactory.getLogger(LogsItsResult.class).info("computed");
		return (a + b) / 2;
	}

}
