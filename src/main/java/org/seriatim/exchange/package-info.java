/**
 * Import and export of the exchange bundle, as pages and as commands. The owners of the
 * tables say how their rows are read and written; this module reads and writes the files,
 * stages what came in, and asks all rules before anything is written. Invariant: an
 * import is all or nothing.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "bundle", "followup", "finding", "treatment", "assessment", "patient",
		"access", "shell", "database" })
package org.seriatim.exchange;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
