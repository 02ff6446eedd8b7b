/** The follow-up list as a page and as CSV. */
@NullMarked
package org.seriatim.followup.web;

import org.jspecify.annotations.NullMarked;
