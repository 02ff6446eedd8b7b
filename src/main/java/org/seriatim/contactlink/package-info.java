/**
 * What passes between the clinic and a patient at home: the link by which a patient
 * answers after a session, what the clinic says on that page, and the outbox of the mail
 * that carries the link or reminds of an appointment. It stands after {@code finding},
 * which takes the answers; the advice follows from there. Invariants: the secret of a
 * link is kept nowhere; opening a link changes nothing; a message that a mail server may
 * have taken is not sent again by itself.
 */
@NullMarked
@ApplicationModule(
		allowedDependencies = { "finding", "treatment", "assessment", "patient", "access", "shell", "database" })
package org.seriatim.contactlink;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
