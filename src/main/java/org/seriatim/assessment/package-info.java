/**
 * What was seen: tracked scars, counts, pores and global scales, each on one day by one
 * assessor; stages of a series, improvement and repeatability follow from them. Knows
 * series only by the days that it is given.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "patient", "access", "shell", "bundle", "statistics" })
package org.seriatim.assessment;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
