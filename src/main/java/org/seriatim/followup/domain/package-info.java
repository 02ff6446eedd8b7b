/**
 * The rules of the interval advice, and what keeps the current advice of every open
 * series in step with the record.
 */
@NullMarked
package org.seriatim.followup.domain;

import org.jspecify.annotations.NullMarked;
