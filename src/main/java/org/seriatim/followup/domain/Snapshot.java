package org.seriatim.followup.domain;

/**
 * The clinic's figures as they were used for advice from one moment on, under a number.
 */
record Snapshot(int number, ClinicFigures figures) {
}
