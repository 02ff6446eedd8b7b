/**
 * The service as people meet it: started as its own process, on its own database, used in
 * Chromium.
 */
@NullMarked
package org.seriatim.browser;

import org.jspecify.annotations.NullMarked;
