/**
 * Every figure that a person acts on, as plain functions of values: the JDK and
 * distribution functions, nothing else. Broken preconditions throw
 * {@link java.lang.IllegalArgumentException}; "too few to say" is a type of its own.
 */
@NullMarked
package org.seriatim.statistics;

import org.jspecify.annotations.NullMarked;
