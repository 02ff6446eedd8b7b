package org.seriatim.backup.domain;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;

import org.flywaydb.core.api.MigrationVersion;

/**
 * What a backup says of itself before anything else, as its entry {@value #ENTRY}.
 *
 * @param madeAt the moment of which it holds the records
 * @param program the version of Seriatim that made it
 * @param database the version of PostgreSQL
 * @param keyMark a mark of the installation's key, from which the key cannot be read off
 * @param steps the steps of the schema, in order
 */
record About(Instant madeAt, String program, String database, String keyMark, List<Step> steps) {

	static final String ENTRY = "about";

	private static final String FORMAT = "1";

	/**
	 * @param version the number of a migration
	 * @param checksum of its file
	 */
	record Step(String version, String checksum) {
	}

	About {
		steps = List.copyOf(steps);
	}

	/** The highest step that the schema has taken. */
	String step() {
		return this.steps.stream()
			.map(Step::version)
			.max(Comparator.comparing(MigrationVersion::fromVersion))
			.orElseThrow();
	}

	byte[] bytes() {
		var lines = new Lines().add("format", FORMAT)
			.add("made_at", this.madeAt)
			.add("program", this.program)
			.add("database", this.database)
			.add("key", this.keyMark);
		this.steps.forEach((step) -> lines.add("step", step.version(), step.checksum()));
		return lines.bytes();
	}

	static About read(byte[] bytes) {
		var values = new HashMap<String, String>();
		var steps = new ArrayList<Step>();
		for (var line : Lines.read(bytes)) {
			if (line.size() == 3 && line.get(0).equals("step")) {
				steps.add(new Step(line.get(1), line.get(2)));
			}
			else if (line.size() == 2) {
				values.put(line.get(0), line.get(1));
			}
		}
		if (!FORMAT.equals(values.get("format"))) {
			throw new BackupRefused(
					"The content of this backup has a form that this version of Seriatim does not know. Read it with the version that made it, or a later one.");
		}
		try {
			if (steps.isEmpty()) {
				throw BackupRefused.damaged("The backup does not say of which schema it is.");
			}
			return new About(Instant.parse(values.getOrDefault("made_at", "")), values.getOrDefault("program", ""),
					values.getOrDefault("database", ""), values.getOrDefault("key", ""), steps);
		}
		catch (DateTimeException ex) {
			throw BackupRefused.damaged("The backup does not say when it was made.");
		}
	}

}
