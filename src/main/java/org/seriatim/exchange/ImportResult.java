package org.seriatim.exchange;

import java.util.List;

/** What became of a bundle. */
public sealed interface ImportResult {

	/**
	 * The bundle is on record.
	 *
	 * @param files what it brought, file by file
	 * @param digest what the audit log names the bundle by
	 */
	record Taken(List<FileCounts> files, String digest) implements ImportResult {

		public Taken {
			files = List.copyOf(files);
		}

		public long added() {
			return this.files.stream().mapToLong(FileCounts::added).sum();
		}

		public long changed() {
			return this.files.stream().mapToLong(FileCounts::changed).sum();
		}

		public long unchanged() {
			return this.files.stream().mapToLong(FileCounts::unchanged).sum();
		}

	}

	/**
	 * Nothing of the bundle was taken.
	 *
	 * @param problems why
	 * @param complete whether all rules were asked; false when a file could not be read,
	 * so that rules about several rows made no sense yet
	 */
	record Refused(ProblemReport problems, boolean complete) implements ImportResult {
	}

	/**
	 * Rows of one file: new ones, ones that became a new version, and ones known as they
	 * are.
	 */
	record FileCounts(String file, long added, long changed, long unchanged) {
	}

}
