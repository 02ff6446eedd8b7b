/**
 * The invented clinic of the profile {@code demo}: made from a seed, loaded through the
 * exchange bundle.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "exchange", "appointment", "contactlink", "finding", "treatment",
		"screening", "photograph", "assessment", "patient", "access" })
package org.seriatim.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
