/**
 * What is settled before a session may begin: the screening with its answers and
 * decisions, consent to treatment, body weight, the time of the anaesthetic cream. It
 * stands before {@code treatment}, which asks it whether a session may begin and takes
 * weight and minutes from it; what was done earlier it is told, so that it looks at no
 * session. Invariants: an answer that is unknown, a draft or too old clears nothing; a
 * decision holds for its item, its day and the answer that it was made on.
 */
@NullMarked
@ApplicationModule(allowedDependencies = { "patient", "access", "shell" })
package org.seriatim.screening;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
