package org.seriatim.patient.domain;

import org.jspecify.annotations.Nullable;

/**
 * What a form says about a patient.
 *
 * @param skin {@code null} where the form was not allowed to speak of it: then what is
 * known stays as it is
 */
public record PatientDetails(Identity identity, ContactDetails contact, @Nullable SkinProfile skin) {
}
