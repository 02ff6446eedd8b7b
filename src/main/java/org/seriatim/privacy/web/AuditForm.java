package org.seriatim.privacy.web;

import java.time.LocalDate;

import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.StaffId;

/**
 * What somebody looks for in the audit log.
 *
 * @param whose a record number, or the id by which the log knows the patient
 * @param until the last day
 */
record AuditForm(@Nullable StaffId staff, @Nullable @Size(max = 100) String whose, @Nullable Action done,
		@Nullable String entryKind, @Nullable LocalDate from, @Nullable LocalDate until) {

	@Override
	public String toString() {
		return "audit form";
	}

}
