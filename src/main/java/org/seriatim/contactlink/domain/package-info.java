@NullMarked
package org.seriatim.contactlink.domain;

import org.jspecify.annotations.NullMarked;
