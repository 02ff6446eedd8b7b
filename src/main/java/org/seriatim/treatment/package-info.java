/**
 * What was done: series, sessions, preparations, injections, and the clinic's protocol
 * versions. Invariants: sessions are numbered through the patient in order of their days;
 * a protocol version is never edited.
 */
@NullMarked
@ApplicationModule(
		allowedDependencies = { "screening", "assessment", "patient", "access", "shell", "bundle", "database" })
package org.seriatim.treatment;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
