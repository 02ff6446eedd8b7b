@NullMarked
package org.seriatim.patient.web;

import org.jspecify.annotations.NullMarked;
