/**
 * What the clinic learns: improvement, complications, durations of lumps, repeatability
 * and data quality, as pages and files that are written from the same figures; the recall
 * of a lot; reviews of signals. Groups are observed, not chosen by chance: no page calls
 * a difference an effect, and none ranks people. Publishes nothing.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "followup", "finding", "treatment", "assessment", "patient", "access",
		"shell", "statistics" })
package org.seriatim.outcome;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
