@NullMarked
package org.seriatim.assessment.domain;

import org.jspecify.annotations.NullMarked;
