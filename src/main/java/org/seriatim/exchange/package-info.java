/**
 * Import and export of the exchange bundle, as pages and as commands. Invariant: an
 * import is all or nothing.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "bundle", "followup", "finding", "treatment", "assessment", "patient",
		"access", "shell", "database" })
package org.seriatim.exchange;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
