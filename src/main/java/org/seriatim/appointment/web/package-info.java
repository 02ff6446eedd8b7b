/** The diary, the booking of a patient, the day's list, and the settings of both. */
@NullMarked
package org.seriatim.appointment.web;

import org.jspecify.annotations.NullMarked;
