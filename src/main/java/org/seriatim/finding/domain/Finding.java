package org.seriatim.finding.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.EnumSet;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.hibernate.annotations.JdbcTypeCode;
import org.hibernate.type.SqlTypes;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.Causality;
import org.seriatim.finding.FindingCourse;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.FindingSide;
import org.seriatim.finding.GradeScale;
import org.seriatim.finding.HowReported;
import org.seriatim.finding.NoticedBy;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.SeriousnessCriterion;
import org.seriatim.finding.domain.FindingParticulars.Onset;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.SessionId;

/**
 * An adverse finding. Only a practitioner's closing, dated and reasoned, ends it; a
 * possible emergency is a one-way door: nothing but that closing takes it back.
 */
@Entity
@Table(name = "finding")
public class Finding {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private FindingId id;

	/** The key in files; without meaning. */
	private String code;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "session_id"))
	private @Nullable SessionId session;

	@Enumerated(EnumType.STRING)
	private FindingKind kind;

	@Enumerated(EnumType.STRING)
	@Column(columnDefinition = "region")
	private @Nullable Region region;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "scar_id"))
	private @Nullable ScarId scar;

	private LocalDate firstNotedOn;

	@JdbcTypeCode(SqlTypes.SMALLINT)
	private @Nullable Integer grade;

	@Enumerated(EnumType.STRING)
	private @Nullable GradeScale gradeScale;

	private @Nullable Boolean serious;

	private @Nullable LocalDate goneOn;

	private @Nullable Boolean histology;

	private @Nullable String note;

	private @Nullable LocalDate onsetFirst;

	private @Nullable LocalDate onsetLast;

	@Enumerated(EnumType.STRING)
	private @Nullable FindingSide side;

	@JdbcTypeCode(SqlTypes.SMALLINT)
	private @Nullable Integer visibility;

	private @Nullable Boolean inflammatory;

	@Enumerated(EnumType.STRING)
	private @Nullable NoticedBy noticedBy;

	@Enumerated(EnumType.STRING)
	private @Nullable HowReported howReported;

	private String[] seriousnessCriteria = {};

	@Enumerated(EnumType.STRING)
	private @Nullable FindingCourse course;

	@Enumerated(EnumType.STRING)
	private @Nullable Causality causality;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "causality_by"))
	private @Nullable StaffId causalityBy;

	private @Nullable LocalDate causalityOn;

	private String[] signs = {};

	private @Nullable Instant raisedAt;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "raised_by"))
	private @Nullable StaffId raisedBy;

	private @Nullable Instant acknowledgedAt;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "acknowledged_by"))
	private @Nullable StaffId acknowledgedBy;

	private @Nullable LocalDate closedOn;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "closed_by"))
	private @Nullable StaffId closedBy;

	private @Nullable String closingReason;

	private @Nullable Instant closedAt;

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Finding() {
	}

	@SuppressWarnings("NullAway.Init")
	Finding(PatientId patient, FindingDetails details, Recorded recorded) {
		this.id = FindingId.next();
		this.code = this.id.toString();
		this.patient = patient;
		become(details, recorded);
	}

	/**
	 * Replaces what is known by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(FindingDetails details, Recorded recorded) {
		if (details.equals(details())) {
			return false;
		}
		become(details, recorded);
		return true;
	}

	private void become(FindingDetails details, Recorded recorded) {
		this.session = details.session();
		this.kind = details.kind();
		this.region = details.region();
		this.scar = details.scar();
		this.firstNotedOn = details.firstNotedOn();
		this.grade = details.grade();
		this.gradeScale = details.gradeScale();
		this.serious = details.serious();
		this.goneOn = details.goneOn();
		this.histology = details.histology();
		this.note = details.note();
		become(details.particulars());
		this.recorded = recorded;
		if (this.kind.isRedFlag() && this.raisedAt == null) {
			this.raisedAt = recorded.recordedAt();
			this.raisedBy = recorded.recordedBy();
		}
	}

	private void become(FindingParticulars particulars) {
		var onset = particulars.onset();
		this.onsetFirst = (onset != null) ? onset.first() : null;
		this.onsetLast = (onset != null && !onset.isOneDay()) ? onset.last() : null;
		this.side = particulars.side();
		this.visibility = particulars.visibility();
		this.inflammatory = particulars.inflammatory();
		this.noticedBy = particulars.noticedBy();
		this.howReported = particulars.howReported();
		this.seriousnessCriteria = particulars.criteriaInOrder()
			.stream()
			.map(SeriousnessCriterion::word)
			.toArray(String[]::new);
		this.course = particulars.course();
	}

	/**
	 * A clinician says whether the treatment caused it, or takes that back.
	 * @param assessment {@code null} while it is pending
	 * @return whether that says anything new
	 */
	boolean attribute(@Nullable CausalityAssessment assessment, Recorded recorded) {
		if (Objects.equals(assessment, causality())) {
			return false;
		}
		this.causality = (assessment != null) ? assessment.causality() : null;
		this.causalityBy = (assessment != null) ? assessment.assessor() : null;
		this.causalityOn = (assessment != null) ? assessment.assessedOn() : null;
		this.recorded = recorded;
		return true;
	}

	/**
	 * Adds signs that were reported.
	 * @return whether any is new
	 */
	boolean add(Collection<RedFlagSign> reported, Recorded recorded) {
		var all = signs();
		if (!all.addAll(reported)) {
			return false;
		}
		this.signs = all.stream().map(RedFlagSign::word).toArray(String[]::new);
		this.recorded = recorded;
		return true;
	}

	/**
	 * A practitioner takes notice of a possible emergency.
	 * @return whether nobody had before
	 */
	boolean acknowledge(StaffId by, Recorded recorded) {
		if (this.acknowledgedAt != null) {
			return false;
		}
		if (this.raisedAt == null) {
			this.raisedAt = this.recorded.recordedAt();
		}
		this.acknowledgedAt = recorded.recordedAt();
		this.acknowledgedBy = by;
		this.recorded = recorded;
		return true;
	}

	/** Closes it, or corrects how it was closed. */
	void close(LocalDate on, StaffId by, String reason, Recorded recorded) {
		if (isOpen()) {
			this.closedAt = recorded.recordedAt();
		}
		this.closedOn = on;
		this.closedBy = by;
		this.closingReason = reason;
		this.recorded = recorded;
	}

	/** It came back, or was closed by mistake. */
	void reopen(Recorded recorded) {
		if (isOpen()) {
			throw new IllegalStateException("finding " + this.id + " is open");
		}
		this.closedOn = null;
		this.closedBy = null;
		this.closingReason = null;
		this.closedAt = null;
		this.recorded = recorded;
	}

	public FindingDetails details() {
		return new FindingDetails(this.session, this.kind, this.region, this.scar, this.firstNotedOn, this.grade,
				this.gradeScale, this.serious, this.goneOn, this.histology, this.note, particulars());
	}

	private FindingParticulars particulars() {
		return new FindingParticulars(enteredOnset(), this.side, this.visibility, this.inflammatory, this.noticedBy,
				this.howReported, constants(SeriousnessCriterion.class, this.seriousnessCriteria), this.course);
	}

	private @Nullable Onset enteredOnset() {
		if (this.onsetFirst == null) {
			return null;
		}
		return new Onset(this.onsetFirst, (this.onsetLast != null) ? this.onsetLast : this.onsetFirst);
	}

	/** When it began: as it was entered, or else the day on which it was first noted. */
	public Onset onset() {
		var entered = enteredOnset();
		return (entered != null) ? entered : new Onset(this.firstNotedOn, this.firstNotedOn);
	}

	/** Whether the treatment caused it; empty while that is pending. */
	public @Nullable CausalityAssessment causality() {
		return (this.causality != null && this.causalityBy != null && this.causalityOn != null)
				? new CausalityAssessment(this.causality, this.causalityBy, this.causalityOn) : null;
	}

	public boolean isOpen() {
		return this.closedOn == null;
	}

	/** A possible emergency that no practitioner has closed. */
	public boolean isOpenRedFlag() {
		return isOpen() && this.kind.isRedFlag();
	}

	public FindingId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public @Nullable SessionId session() {
		return this.session;
	}

	public FindingKind kind() {
		return this.kind;
	}

	public LocalDate firstNotedOn() {
		return this.firstNotedOn;
	}

	/** The alarming signs that were reported, in the order in which they are asked. */
	public Set<RedFlagSign> signs() {
		return constants(RedFlagSign.class, this.signs);
	}

	private static <E extends Enum<E>> Set<E> constants(Class<E> words, String[] stored) {
		var constants = EnumSet.noneOf(words);
		Stream.of(stored).map((word) -> Enum.valueOf(words, word.toUpperCase(Locale.ROOT))).forEach(constants::add);
		return constants;
	}

	public @Nullable Instant raisedAt() {
		return this.raisedAt;
	}

	public @Nullable StaffId raisedBy() {
		return this.raisedBy;
	}

	public @Nullable Instant acknowledgedAt() {
		return this.acknowledgedAt;
	}

	public @Nullable StaffId acknowledgedBy() {
		return this.acknowledgedBy;
	}

	public @Nullable LocalDate closedOn() {
		return this.closedOn;
	}

	public @Nullable StaffId closedBy() {
		return this.closedBy;
	}

	public @Nullable String closingReason() {
		return this.closingReason;
	}

	/** When it was closed; not known of a closing that a bundle brought. */
	public @Nullable Instant closedAt() {
		return this.closedAt;
	}

	public Recorded recorded() {
		return this.recorded;
	}

	public Long version() {
		return this.version;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Finding finding && this.id.equals(finding.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Finding " + this.id;
	}

}
