/**
 * Brings a clinic back that has lost its machine: one encrypted file holds the whole
 * database, as it was at one moment, and every file of the data folder that must survive.
 * Invariants: what cannot be read back whole is no backup; a restore happens whole and
 * into an empty installation, or not at all.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "database", "access", "shell" })
package org.seriatim.backup;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
