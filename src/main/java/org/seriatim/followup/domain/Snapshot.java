package org.seriatim.followup.domain;

import java.time.LocalDate;

/**
 * The clinic's figures as they were used for advice from one moment on, under a number.
 *
 * @param asOf the last day whose records are in it
 */
record Snapshot(int number, LocalDate asOf, ClinicFigures figures) {
}
