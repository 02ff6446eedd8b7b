/**
 * The words of the exchange bundle: files, columns, the kinds of value a cell may hold,
 * and the section that each owner of a table offers for reading and writing it. Knows no
 * table itself.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.seriatim.bundle;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
