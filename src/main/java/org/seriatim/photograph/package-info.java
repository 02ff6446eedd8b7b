/**
 * What it looked like: photographs in standard views and close-ups, what a patient allows
 * to be done with them, and whether two of them can be compared. Invariants: nothing is
 * shown or added without consent, and a picture is on disk before its row says that it
 * exists.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "assessment", "patient", "access", "shell" })
package org.seriatim.photograph;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
