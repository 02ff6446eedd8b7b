/**
 * The series page and the patient page: what the record says, in words and figures ready
 * to be shown.
 */
@NullMarked
package org.seriatim.record.web;

import org.jspecify.annotations.NullMarked;
