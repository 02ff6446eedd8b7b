package org.seriatim.proof;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Map;
import java.util.concurrent.locks.LockSupport;

import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.seriatim.exchange.SampleBundle;

/** Brings bundles in by the page, and waits there until it says what came of them. */
final class Office {

	private static final String PAGE = "/setup/import";

	private static final long LOOK_AGAIN = Duration.ofMillis(100).toNanos();

	private Office() {
	}

	static String take(Person who, SampleBundle bundle, Path folder) throws IOException {
		return take(who, Clinic.zipped(bundle, folder));
	}

	/**
	 * @return what the page says of it
	 * @throws IOException if the service does not say so
	 */
	static String take(Person who, byte[] zip) throws IOException {
		var page = shown(who, zip);
		var result = page.selectFirst("#import-result");
		return (result != null) ? result.text() : page.select(".error-summary, h1").text();
	}

	/**
	 * @return the page that says what came of it, or why it was not even looked at
	 * @throws IOException if the service does not say so
	 */
	static Document shown(Person who, byte[] zip) throws IOException {
		var sent = who.upload(PAGE, Map.of(), "bundle", "bundle.zip", zip);
		if (sent.isFault()) {
			throw new IOException("The import was answered with " + sent.status());
		}
		if (!sent.leadsTo(PAGE)) {
			return Jsoup.parse(sent.body());
		}
		while (true) {
			var page = who.get(PAGE);
			if (page.status() != 200) {
				throw new IOException("The page of the import was answered with " + page.status());
			}
			var shown = Jsoup.parse(page.body());
			if (shown.selectFirst("#import-result") != null) {
				return shown;
			}
			if (shown.selectFirst("#import-running") == null) {
				throw new IOException("The service knows nothing of the import any more");
			}
			LockSupport.parkNanos(LOOK_AGAIN);
		}
	}

}
