/**
 * Durations of lumps and what the clinic can learn from them.
 */
@NullMarked
package org.seriatim.outcome.domain;

import org.jspecify.annotations.NullMarked;
