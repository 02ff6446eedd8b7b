/**
 * Sign-in, the first visit, accounts and tokens as pages, and the one table of routes.
 */
@NullMarked
package org.seriatim.access.web;

import org.jspecify.annotations.NullMarked;
