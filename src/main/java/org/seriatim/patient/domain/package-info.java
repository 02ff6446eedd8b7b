@NullMarked
package org.seriatim.patient.domain;

import org.jspecify.annotations.NullMarked;
