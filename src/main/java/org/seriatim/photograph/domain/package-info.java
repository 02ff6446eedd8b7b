@NullMarked
package org.seriatim.photograph.domain;

import org.jspecify.annotations.NullMarked;
