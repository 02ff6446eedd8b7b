/**
 * What went wrong and what the patient told: adverse findings with their observations,
 * contacts after sessions, lump durations and the clinic's curve. Invariant: only a
 * practitioner's closing, dated and reasoned, ends a finding.
 */
@NullMarked
@ApplicationModule(
		allowedDependencies = { "treatment", "assessment", "patient", "access", "shell", "bundle", "statistics" })
package org.seriatim.finding;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
