/** Reads and keeps what is settled before a session. */
@NullMarked
package org.seriatim.screening.domain;

import org.jspecify.annotations.NullMarked;
