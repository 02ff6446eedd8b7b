/** Setup of what is asked before a session. */
@NullMarked
package org.seriatim.screening.web;

import org.jspecify.annotations.NullMarked;
