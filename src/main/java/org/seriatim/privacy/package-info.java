/**
 * What a patient may ask of the clinic about the record itself: everything that is held,
 * and that it be erased; and what keeps a record from being erased. Invariants: a record
 * on hold is not erased, an erasure leaves the audit log whole, and what the clinic's
 * figures rest on stays as a record of nobody.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "exchange", "bundle", "photograph", "patient", "access", "shell" })
package org.seriatim.privacy;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
