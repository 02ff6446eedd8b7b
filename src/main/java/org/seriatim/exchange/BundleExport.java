package org.seriatim.exchange;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

import org.seriatim.patient.PatientSummary;

/**
 * Writes all records as a bundle, as they are at one moment. The same records always give
 * the same bytes.
 */
public interface BundleExport {

	/**
	 * Writes the bundle as a ZIP file when the name ends in {@code .zip}, else as a
	 * folder. Nothing is left under the name when it fails.
	 * @throws FileAlreadyExistsException when the file exists, or the folder with
	 * anything in it
	 */
	void to(Path fileOrFolder) throws IOException;

	/** Writes the bundle as a ZIP file to a stream, which stays open. */
	void zipTo(OutputStream out) throws IOException;

	/**
	 * A file that is written beside the bundle.
	 *
	 * @param name path within the ZIP file, not that of a CSV file, which would be taken
	 * for a part of the bundle
	 */
	record FileBeside(String name, Content content) {
	}

	/** What a file beside the bundle holds; asked for when it is written. */
	@FunctionalInterface
	interface Content {

		/** Empty where there is nothing to write: then there is no such file. */
		Optional<byte[]> read() throws IOException;

	}

	/**
	 * Writes one patient's part of the bundle as a ZIP file: the same files with the
	 * patient's rows only, which an empty installation takes; it looks at nothing that is
	 * beside them.
	 * @param beside written after the bundle, one after the other
	 */
	void zipOf(PatientSummary patient, List<FileBeside> beside, OutputStream out) throws IOException;

}
