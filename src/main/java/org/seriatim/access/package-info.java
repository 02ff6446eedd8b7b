/**
 * Who may do what: staff, accounts, roles, sign-in, tokens for scripts, the one table of
 * routes by role, and the audit hook through which every write and every opening of a
 * patient's record goes. Knows patients by opaque id only.
 */
@NullMarked
@ApplicationModule(allowedDependencies = "database")
package org.seriatim.access;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
