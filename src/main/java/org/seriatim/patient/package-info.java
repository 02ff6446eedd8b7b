/**
 * The person: identity, contact, skin profile. Invariant: a record number is unique and
 * never reused.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "access", "shell", "bundle" })
package org.seriatim.patient;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
