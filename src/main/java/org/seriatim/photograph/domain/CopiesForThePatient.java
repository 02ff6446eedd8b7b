package org.seriatim.photograph.domain;

import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.assessment.TrackedScar;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.PhotographCopies;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.Purpose;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class CopiesForThePatient implements PhotographCopies {

	private final Photographs photographs;

	private final PhotographFiles files;

	private final KeepConsent consent;

	private final TrackedScars scars;

	private final AuditLog audit;

	CopiesForThePatient(Photographs photographs, PhotographFiles files, KeepConsent consent, TrackedScars scars,
			AuditLog audit) {
		this.photographs = photographs;
		this.files = files;
		this.consent = consent;
		this.scars = scars;
		this.audit = audit;
	}

	@Override
	@Transactional(readOnly = true)
	public List<Held> of(PatientId patient) {
		var labels = this.scars.of(patient).stream().collect(Collectors.toMap(TrackedScar::id, TrackedScar::label));
		return this.photographs.findByPatient(patient)
			.stream()
			.sorted(Comparator.comparing(Photograph::takenOn)
				.thenComparing(Photograph::view)
				.thenComparing((photograph) -> photograph.id().value()))
			.map((photograph) -> {
				var details = photograph.details();
				return new Held(photograph.id(), photograph.takenOn(), details.takenAt(), details.view(),
						details.lightSet(), (details.region() != null) ? details.region().word() : null,
						(details.scar() != null) ? labels.get(details.scar()) : null, photograph.isSetAside(),
						HexFormat.of().formatHex(photograph.sha256()));
			})
			.toList();
	}

	@Override
	@Transactional(readOnly = true)
	public List<Allowed> consentsOf(PatientId patient) {
		return this.consent.of(patient)
			.stream()
			.sorted(Comparator.comparing(Consent::givenOn).thenComparing(Consent::purpose))
			.map((one) -> new Allowed(one.purpose(), one.givenOn(), one.withdrawnOn()))
			.toList();
	}

	@Override
	@Transactional(readOnly = true)
	public boolean mayBeShown(PatientId patient) {
		return this.consent.isGiven(patient, Purpose.CARE);
	}

	@Override
	@Transactional
	public Optional<byte[]> forThePatient(PhotographId id) {
		var photograph = this.photographs.findById(id).orElseThrow();
		if (!mayBeShown(photograph.patient())) {
			return Optional.empty();
		}
		this.audit.record(Action.EXPORTED, "photograph", id.value(), photograph.patient().value(), "report");
		return this.files.read(this.files.whole(id));
	}

}
