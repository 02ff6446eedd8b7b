package org.seriatim.statistics;

/**
 * A value and the group that it belongs to. Groups are reported in the order of their
 * first appearance.
 *
 * @param <T> what was observed
 */
public record Grouped<T>(String group, T value) {
}
