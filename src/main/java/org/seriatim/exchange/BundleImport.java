package org.seriatim.exchange;

import java.nio.file.Path;

/**
 * Takes the records of a bundle, all or nothing.
 */
public interface BundleImport {

	/**
	 * Takes a bundle.
	 * @param bundle a folder or a ZIP file
	 * @param update whether a row whose key is on record with other values becomes a new
	 * version; otherwise it is a problem
	 * @param progress is told how far it has come
	 */
	ImportResult take(Path bundle, boolean update, ImportProgress progress);

}
