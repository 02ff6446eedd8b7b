/** The Setup pages for import and export. */
@NullMarked
package org.seriatim.exchange.web;

import org.jspecify.annotations.NullMarked;
