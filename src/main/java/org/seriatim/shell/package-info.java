/**
 * How pages look and bind: layout, navigation, form fields, error pages. Knows no
 * patient, so that a page can be restyled without touching a rule and no rule can hide in
 * the layout.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "access" })
package org.seriatim.shell;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
