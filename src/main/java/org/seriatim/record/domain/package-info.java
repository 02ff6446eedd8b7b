/**
 * What a series' page and a patient's page show, read in a fixed number of statements
 * whatever the length of the record, and the figures that follow from it.
 */
@NullMarked
package org.seriatim.record.domain;

import org.jspecify.annotations.NullMarked;
