/**
 * What every test of more than one class stands on: one PostgreSQL server for the whole
 * run, a fresh migrated database for each test that writes, one Spring context for all,
 * and a clock that stands still.
 */
@NullMarked
package org.seriatim.support;

import org.jspecify.annotations.NullMarked;
