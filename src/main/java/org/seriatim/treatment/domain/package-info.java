@NullMarked
package org.seriatim.treatment.domain;

import org.jspecify.annotations.NullMarked;
