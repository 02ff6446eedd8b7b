package org.seriatim.outcome.domain;

/**
 * Which lumps are asked about, and by what they are told apart.
 */
public record LumpQuestion(LumpGrouping grouping, OutcomeFilter filter) {
}
