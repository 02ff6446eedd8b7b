/** Hours, free times, bookings and the day's list. */
@NullMarked
package org.seriatim.appointment.domain;

import org.jspecify.annotations.NullMarked;
