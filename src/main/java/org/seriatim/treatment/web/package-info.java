@NullMarked
package org.seriatim.treatment.web;

import org.jspecify.annotations.NullMarked;
