/**
 * What the clinic learns: lump durations and their groups, as pages and CSV with the same
 * figures. Publishes nothing.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "followup", "finding", "treatment", "assessment", "patient", "access",
		"shell", "statistics" })
package org.seriatim.outcome;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
