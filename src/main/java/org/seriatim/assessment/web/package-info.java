@NullMarked
package org.seriatim.assessment.web;

import org.jspecify.annotations.NullMarked;
