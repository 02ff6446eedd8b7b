@NullMarked
package org.seriatim.finding.domain;

import org.jspecify.annotations.NullMarked;
