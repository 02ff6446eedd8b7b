package org.seriatim.record.web;

import java.time.Clock;
import java.util.UUID;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.record.domain.EntryOwner;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;

/**
 * Shows every version of any entry of a patient's record side by side: who entered it,
 * when, and why it replaced the one before.
 */
@Controller
class HistoryController {

	private final EarlierVersions history;

	private final EntryOwner owner;

	private final PatientDirectory patients;

	private final StaffDirectory staff;

	private final AuditLog audit;

	private final Clock clock;

	HistoryController(EarlierVersions history, EntryOwner owner, PatientDirectory patients, StaffDirectory staff,
			AuditLog audit, Clock clock) {
		this.history = history;
		this.owner = owner;
		this.patients = patients;
		this.staff = staff;
		this.audit = audit;
		this.clock = clock;
	}

	@GetMapping("/history/{kind}/{entry}")
	ModelAndView versions(@PathVariable String kind, @PathVariable UUID entry) {
		var versioned = this.history.whole(kind, entry).orElseThrow(HistoryController::notFound);
		var patient = this.owner.of(versioned)
			.map(this.patients::requireExisting)
			.orElseThrow(HistoryController::notFound);
		this.audit.record(Action.OPENED, kind, entry, patient.id().value());
		return new ModelAndView("record/versions", "patient", patient).addObject("kind", kind)
			.addObject("removed", versioned.removed())
			.addObject("table", VersionTable.of(versioned, this.clock.getZone(), this::name, this.owner::nameOf));
	}

	private String name(String id) {
		return this.staff.byId(StaffId.of(id)).map(StaffMember::name).orElse(id);
	}

	private static ResponseStatusException notFound() {
		return new ResponseStatusException(HttpStatus.NOT_FOUND);
	}

}
