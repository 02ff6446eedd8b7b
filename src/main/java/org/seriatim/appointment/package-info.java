/**
 * The clinic's diary: when practitioners work, which times are free, who is booked for
 * what, and who must be called or booked today. Invariants: nobody is booked twice at one
 * time, and no treatment is booked while the patient's advice holds it.
 */
@NullMarked
@ApplicationModule(
		allowedDependencies = { "followup", "contactlink", "finding", "treatment", "patient", "access", "shell" })
package org.seriatim.appointment;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
