package org.seriatim.photograph.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.TrackedScars;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.View;
import org.seriatim.photograph.domain.EntryRefused.Rule;
import org.seriatim.shell.StaleVersion;
import org.springframework.core.io.InputStreamSource;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;

/** Takes photographs in, shows them, corrects what is known of them. */
@Service
public class KeepPhotographs {

	private final Photographs photographs;

	private final PictureIntake intake;

	private final PhotographFiles files;

	private final FilesToRemove leftovers;

	private final KeepConsent consent;

	private final TrackedScars scars;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final TransactionTemplate transaction;

	KeepPhotographs(Photographs photographs, PictureIntake intake, PhotographFiles files, FilesToRemove leftovers,
			KeepConsent consent, TrackedScars scars, PatientDirectory patients, AuditLog audit, CurrentStaff staff,
			Clock clock, TransactionTemplate transaction) {
		this.photographs = photographs;
		this.intake = intake;
		this.files = files;
		this.leftovers = leftovers;
		this.consent = consent;
		this.scars = scars;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.transaction = transaction;
	}

	@Transactional(readOnly = true)
	public Optional<Photograph> byId(PhotographId id) {
		return this.photographs.findById(id);
	}

	/** All of a patient's, those set aside too, the latest first. */
	@Transactional(readOnly = true)
	public List<Photograph> of(PatientId patient) {
		return this.photographs.findByPatient(patient)
			.stream()
			.sorted(Comparator.comparing(Photograph::takenOn)
				.reversed()
				.thenComparing(Photograph::view)
				.thenComparing((photograph) -> photograph.id().value()))
			.toList();
	}

	/**
	 * Takes a file in. When this returns the picture is on the disk and its row in the
	 * database; a file that is known already, as one that is sent again after a lost
	 * connection, stays what it is.
	 * @param size of the file in bytes
	 * @throws PictureRefused if the file is no picture that can be kept
	 * @throws EntryRefused if the details break a rule, or without consent
	 */
	public PhotographId add(PatientId patient, PhotographDetails details, InputStreamSource file, long size) {
		this.patients.requireExisting(patient);
		var checked = checked(patient, details);
		requireConsent(patient, Purpose.CARE);
		// no transaction holds a connection while pictures are computed
		var picture = this.intake.read(file, size);
		var known = known(patient, picture);
		if (known.isPresent()) {
			return known.get();
		}
		var id = PhotographId.next();
		this.leftovers.expect(id);
		try {
			this.files.keep(id, picture);
			this.transaction.executeWithoutResult((status) -> {
				requireConsent(patient, Purpose.CARE);
				this.leftovers.keep(id);
				save(new Photograph(id, patient, complete(checked, picture), picture,
						Recorded.first(this.clock.instant(), this.staff)), Action.CREATED);
			});
			return id;
		}
		catch (DataIntegrityViolationException ex) {
			this.leftovers.giveUp(id);
			// sent twice at once: the other one was first
			return known(patient, picture).orElseThrow(() -> ex);
		}
		catch (RuntimeException ex) {
			giveUp(id, ex);
			throw ex;
		}
	}

	private void giveUp(PhotographId id, RuntimeException why) {
		try {
			this.leftovers.giveUp(id);
		}
		catch (RuntimeException ex) {
			// it stays listed and goes later
			why.addSuppressed(ex);
		}
	}

	private Optional<PhotographId> known(PatientId patient, Picture picture) {
		return this.photographs.findByPatientAndSourceAndSetAsideFalse(patient, picture.source()).map(Photograph::id);
	}

	private PhotographDetails complete(PhotographDetails details, Picture picture) {
		var today = LocalDate.now(this.clock);
		var noted = picture.takenAt();
		var day = details.takenOn();
		var time = details.takenAt();
		if (day == null) {
			// a camera whose clock runs ahead says nothing
			day = (noted != null && !noted.toLocalDate().isAfter(today)) ? noted.toLocalDate() : today;
		}
		if (time == null && noted != null && noted.toLocalDate().equals(day)) {
			time = noted.toLocalTime();
		}
		return details.with(day, time, details.region(),
				(details.camera() != null) ? details.camera() : picture.camera());
	}

	/**
	 * Replaces what is known by a new version; what says the same as before changes
	 * nothing.
	 * @param shown the version that the form showed
	 * @throws EntryRefused if the details break a rule
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	@Transactional
	public void correct(PhotographId id, @Nullable Long shown, PhotographDetails details, String reason) {
		var photograph = current(id, shown);
		if (photograph.correct(checked(photograph.patient(), details), correction(reason))) {
			save(photograph, Action.CORRECTED);
		}
	}

	/**
	 * Keeps a photograph out of sight, or brings it back. The picture stays, so that a
	 * mistake can be undone.
	 * @throws EntryRefused if the same file is shown already
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	@Transactional
	public void setAside(PhotographId id, @Nullable Long shown, boolean aside, String reason) {
		var photograph = current(id, shown);
		if (photograph.isSetAside() == aside) {
			return;
		}
		photograph.setAside(aside, correction(reason));
		try {
			save(photograph, Action.CORRECTED);
		}
		catch (DataIntegrityViolationException ex) {
			throw new EntryRefused("reason", Rule.SHOWN_ALREADY);
		}
	}

	/**
	 * Says where the two landmarks are.
	 * @throws EntryRefused if they are too near to each other
	 */
	@Transactional
	public void mark(PhotographId id, Landmarks points) {
		var photograph = this.photographs.findById(id).orElseThrow();
		if (!points.areApart()) {
			throw new EntryRefused("secondX", Rule.LANDMARKS_TOO_NEAR);
		}
		if (photograph.mark(points, correction("landmarks"))) {
			save(photograph, Action.CORRECTED);
		}
	}

	/** Which size of a picture is wanted. */
	public enum Size {

		WHOLE, SMALL

	}

	/**
	 * The picture, whose opening is in the audit log.
	 * @return a JPEG; empty if its file is gone
	 * @throws EntryRefused if the patient does not allow it to be looked at any more
	 */
	@Transactional
	public Optional<byte[]> open(Photograph photograph, Size size) {
		requireConsent(photograph.patient(), Purpose.CARE);
		this.audit.record(Action.OPENED, "photograph", photograph.id().value(), photograph.patient().value(),
				(size == Size.SMALL) ? "small" : null);
		return this.files
			.read((size == Size.SMALL) ? this.files.small(photograph.id()) : this.files.whole(photograph.id()));
	}

	/**
	 * The picture to be used outside of the record, which is in the audit log with its
	 * purpose.
	 * @return a JPEG; empty if its file is gone
	 * @throws EntryRefused if the patient does not allow it for this purpose
	 */
	@Transactional
	public Optional<byte[]> copy(Photograph photograph, Purpose purpose) {
		requireConsent(photograph.patient(), purpose);
		this.audit.record(Action.EXPORTED, "photograph", photograph.id().value(), photograph.patient().value(),
				purpose.word());
		return this.files.read(this.files.whole(photograph.id()));
	}

	private void requireConsent(PatientId patient, Purpose purpose) {
		if (!this.consent.isGiven(patient, purpose)) {
			throw new EntryRefused("consent", Rule.NO_CONSENT, purpose);
		}
	}

	private PhotographDetails checked(PatientId patient, PhotographDetails details) {
		var today = LocalDate.now(this.clock);
		if (details.takenOn() != null && details.takenOn().isAfter(today)) {
			throw new EntryRefused("takenOn", Rule.IN_THE_FUTURE, today);
		}
		if (details.view() != View.CLOSE && details.yawDegrees() != null) {
			throw new EntryRefused("yawDegrees", Rule.TURN_OF_A_STANDARD_VIEW);
		}
		if (details.view() == View.CLOSE && details.region() == null && details.scar() == null) {
			throw new EntryRefused("region", Rule.CLOSE_VIEW_OF_NOTHING);
		}
		if (Boolean.FALSE.equals(details.qualityOk()) && details.qualityNote() == null) {
			throw new EntryRefused("qualityNote", Rule.QUALITY_WITHOUT_REASON);
		}
		return details.with(details.takenOn(), details.takenAt(), region(patient, details), details.camera());
	}

	private @Nullable Region region(PatientId patient, PhotographDetails details) {
		if (details.scar() == null) {
			return details.region();
		}
		var scar = this.scars.of(patient)
			.stream()
			.filter((known) -> known.id().equals(details.scar()))
			.findFirst()
			.orElseThrow(() -> new EntryRefused("scar", Rule.SCAR_OF_ANOTHER_PATIENT));
		if (details.region() != null && details.region() != scar.region()) {
			throw new EntryRefused("region", Rule.SCAR_OF_ANOTHER_REGION, scar.label(), scar.region());
		}
		return scar.region();
	}

	private Photograph current(PhotographId id, @Nullable Long shown) {
		var photograph = this.photographs.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, photograph.version(), photograph.recorded());
		return photograph;
	}

	private Recorded correction(String reason) {
		return Recorded.correction(this.clock.instant(), this.staff, reason);
	}

	private void save(Photograph photograph, Action action) {
		this.photographs.saveAndFlush(photograph);
		this.audit.record(action, "photograph", photograph.id().value(), photograph.patient().value());
	}

}
