/**
 * The patient's record at a glance: the series page and the patient page, composed from
 * what the other modules know. Reads only; publishes nothing.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "outcome", "followup", "finding", "treatment", "screening", "photograph",
		"assessment", "patient", "access", "shell", "statistics" })
package org.seriatim.record;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
