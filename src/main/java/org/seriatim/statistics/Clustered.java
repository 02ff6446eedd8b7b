package org.seriatim.statistics;

/**
 * A value and the patient that it belongs to, as lesions nest in patients.
 *
 * @param patient opaque identifier
 * @param <T> what was observed
 */
public record Clustered<T>(String patient, T value) {
}
