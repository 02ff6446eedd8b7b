package org.seriatim.treatment.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import jakarta.persistence.AttributeOverride;
import jakarta.persistence.CascadeType;
import jakarta.persistence.Column;
import jakarta.persistence.Embedded;
import jakarta.persistence.EmbeddedId;
import jakarta.persistence.Entity;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OrderBy;
import jakarta.persistence.Table;
import jakarta.persistence.Version;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.Aftercare;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.domain.SessionDetails.Injected;
import org.seriatim.treatment.domain.SessionDetails.Prepared;

/**
 * One treatment sitting with what was prepared and injected. It is corrected as a whole:
 * every correction is a new version of the session, and of each of its parts that
 * changed.
 */
@Entity
@Table(name = "session")
public class Session {

	@EmbeddedId
	@AttributeOverride(name = "value", column = @Column(name = "id"))
	private SessionId id;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "patient_id"))
	private PatientId patient;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "series_id"))
	private SeriesId series;

	private int number;

	private LocalDate treatedOn;

	@Embedded
	@AttributeOverride(name = "value", column = @Column(name = "practitioner_id"))
	private StaffId practitioner;

	@Embedded
	private @Nullable Circumstances circumstances;

	@Embedded
	private @Nullable Aftercare aftercare;

	@OneToMany(mappedBy = "session", cascade = CascadeType.ALL, orphanRemoval = true)
	@OrderBy("number")
	private List<Preparation> preparations = new ArrayList<>();

	@OneToMany(mappedBy = "session", cascade = CascadeType.ALL, orphanRemoval = true)
	@OrderBy("number")
	private List<Injection> injections = new ArrayList<>();

	@Embedded
	private Recorded recorded;

	@Version
	private Long version;

	@SuppressWarnings("NullAway.Init")
	protected Session() {
	}

	@SuppressWarnings("NullAway.Init")
	Session(PatientId patient, SeriesId series, SessionDetails details, Recorded recorded) {
		this.id = SessionId.next();
		this.patient = patient;
		this.series = series;
		become(details, recorded);
	}

	/**
	 * Replaces what was recorded by a new version.
	 * @return whether the details say anything new
	 */
	boolean correct(SessionDetails details, Recorded recorded) {
		var isNew = details.number() != this.number || !details.treatedOn().equals(this.treatedOn)
				|| !details.practitioner().equals(this.practitioner) || !details.circumstances().equals(circumstances())
				|| !details.aftercare().equals(aftercare());
		if (become(details, recorded) || isNew) {
			this.recorded = recorded;
			return true;
		}
		return false;
	}

	private boolean become(SessionDetails details, Recorded recorded) {
		this.number = details.number();
		this.treatedOn = details.treatedOn();
		this.practitioner = details.practitioner();
		this.circumstances = details.circumstances();
		this.aftercare = details.aftercare();
		if (this.recorded == null) {
			this.recorded = recorded;
		}
		var injectionsAreLeft = this.injections.removeIf((injection) -> details.injections()
			.stream()
			.noneMatch((injected) -> injected.number() == injection.number()));
		var changed = prepare(details.preparations(), recorded);
		return inject(details.injections(), recorded) || changed || injectionsAreLeft;
	}

	private boolean prepare(List<Prepared> details, Recorded recorded) {
		var changed = this.preparations.removeIf(
				(preparation) -> details.stream().noneMatch((prepared) -> prepared.number() == preparation.number()));
		var byNumber = preparationsByNumber();
		for (var prepared : details) {
			var preparation = byNumber.get(prepared.number());
			if (preparation == null) {
				this.preparations.add(new Preparation(this, prepared, recorded));
				changed = true;
			}
			else {
				changed |= preparation.correct(prepared, recorded);
			}
		}
		return changed;
	}

	private boolean inject(List<Injected> details, Recorded recorded) {
		var changed = false;
		var sources = preparationsByNumber();
		var byNumber = new HashMap<Integer, Injection>();
		this.injections.forEach((injection) -> byNumber.put(injection.number(), injection));
		for (var injected : details) {
			var source = (injected.preparation() != null) ? sources.get(injected.preparation()) : null;
			if (injected.preparation() != null && source == null) {
				throw new IllegalArgumentException("there is no preparation " + injected.preparation());
			}
			var preparation = (source != null) ? source.id() : null;
			var injection = byNumber.get(injected.number());
			if (injection == null) {
				this.injections.add(new Injection(this, injected, preparation, recorded));
				changed = true;
			}
			else {
				changed |= injection.correct(preparation, injected, recorded);
			}
		}
		return changed;
	}

	private Map<Integer, Preparation> preparationsByNumber() {
		var byNumber = new HashMap<Integer, Preparation>();
		this.preparations.forEach((preparation) -> byNumber.put(preparation.number(), preparation));
		return byNumber;
	}

	private Circumstances circumstances() {
		// a value of which nothing is known comes back from the database as null
		return (this.circumstances != null) ? this.circumstances : Circumstances.UNKNOWN;
	}

	private Aftercare aftercare() {
		return Objects.requireNonNullElse(this.aftercare, Aftercare.UNKNOWN);
	}

	public SessionId id() {
		return this.id;
	}

	public PatientId patient() {
		return this.patient;
	}

	public SeriesId series() {
		return this.series;
	}

	public Long version() {
		return this.version;
	}

	Recorded recorded() {
		return this.recorded;
	}

	@Override
	public boolean equals(Object other) {
		return this == other || other instanceof Session session && this.id.equals(session.id());
	}

	@Override
	public int hashCode() {
		return this.id.hashCode();
	}

	@Override
	public String toString() {
		return "Session " + this.id;
	}

}
