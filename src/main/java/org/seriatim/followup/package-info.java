/**
 * When to come back: interval advice and what became of it, the follow-up list,
 * appointments. Invariant: the advice is a pure function of facts, protocol version and
 * snapshot, so it can be computed again as it was.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "finding", "treatment", "assessment", "patient", "access", "shell", "bundle",
		"statistics", "database" })
package org.seriatim.followup;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
