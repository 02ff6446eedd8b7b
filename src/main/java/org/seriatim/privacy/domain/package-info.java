@NullMarked
package org.seriatim.privacy.domain;

import org.jspecify.annotations.NullMarked;
