/** How a bundle is read, staged, checked, written and given out. */
@NullMarked
package org.seriatim.exchange.domain;

import org.jspecify.annotations.NullMarked;
