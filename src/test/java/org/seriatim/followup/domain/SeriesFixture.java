package org.seriatim.followup.domain;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarRating;
import org.seriatim.assessment.ScarType;
import org.seriatim.finding.ContactFacts;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingFacts;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.ObservationFacts;
import org.seriatim.followup.SeriesFacts;
import org.seriatim.patient.SkinThickness;
import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SessionFacts;
import org.seriatim.treatment.SessionId;

/**
 * A series whose last session was on {@link #DAY_0}; days are counted from it, days of
 * earlier sessions are negative. Without anything else the patient was reached on day 15
 * and had no lump.
 */
final class SeriesFixture {

	static final LocalDate DAY_0 = LocalDate.of(2026, 3, 2);

	static final SeriesId SERIES = SeriesId.of("00000000-0000-7000-8000-000000000001");

	private static final SeriesId LATER_SERIES = SeriesId.of("00000000-0000-7000-8000-000000000002");

	private SeriesStatus status = SeriesStatus.OPEN;

	private @Nullable LocalDate endedOn;

	private @Nullable SkinThickness skin;

	private final List<Integer> earlierSessions = new ArrayList<>();

	private @Nullable Integer laterSeriesOn;

	private @Nullable Integer sessionPain;

	private final List<InjectionFacts> injections = new ArrayList<>();

	private final List<FindingFixture> findings = new ArrayList<>();

	private final List<Contact> contacts = new ArrayList<>();

	private final List<RatedScar> scars = new ArrayList<>();

	private final List<LocalDate> assessed = new ArrayList<>();

	private SeriesFixture() {
	}

	/** Reached on day 15, nothing found. */
	static SeriesFixture aSeries() {
		return aSeriesNotHeardOf().reached(15);
	}

	static SeriesFixture aSeriesNotHeardOf() {
		return new SeriesFixture();
	}

	static LocalDate day(int number) {
		return DAY_0.plusDays(number);
	}

	SeriesFixture ended(SeriesStatus how, @Nullable Integer on) {
		this.status = how;
		this.endedOn = (on != null) ? day(on) : null;
		return this;
	}

	SeriesFixture skin(SkinThickness thickness) {
		this.skin = thickness;
		return this;
	}

	SeriesFixture earlierSessions(Integer... days) {
		this.earlierSessions.addAll(List.of(days));
		return this;
	}

	SeriesFixture laterSeriesOn(int day) {
		this.laterSeriesOn = day;
		return this;
	}

	SeriesFixture sessionPain(int nrs) {
		this.sessionPain = nrs;
		return this;
	}

	SeriesFixture injected(Region region, Layer layer) {
		return injected(region, null, layer, null);
	}

	SeriesFixture injected(Region region, @Nullable String scar, @Nullable Layer layer, @Nullable Integer pain) {
		this.injections
			.add(new InjectionFacts(region, (scar != null) ? FindingFixture.scarId(scar) : null, layer, 2, 0.04, pain));
		return this;
	}

	SeriesFixture with(FindingFixture finding) {
		this.findings.add(finding);
		return this;
	}

	SeriesFixture reached(int day) {
		return contact(day, ContactOutcome.REACHED, false);
	}

	SeriesFixture reachedWithLump(int day) {
		return contact(day, ContactOutcome.REACHED, true);
	}

	SeriesFixture noAnswer(int day) {
		return contact(day, ContactOutcome.NO_ANSWER, null);
	}

	SeriesFixture contact(int day, ContactOutcome outcome, @Nullable Boolean lumps) {
		this.contacts.add(new Contact(null, day, outcome, lumps));
		return this;
	}

	SeriesFixture contactAfterEarlierSession(int number, int day, boolean lumps) {
		this.contacts.add(new Contact(number, day, ContactOutcome.REACHED, lumps));
		return this;
	}

	SeriesFixture assessed(int day) {
		this.assessed.add(day(day));
		return this;
	}

	/** A boxcar scar with gauge depths on these days, written day, depth, day, depth … */
	SeriesFixture scar(String label, double... dayAndDepth) {
		return scar(label, ScarType.BOXCAR, dayAndDepth);
	}

	SeriesFixture scar(String label, ScarType type, double... dayAndDepth) {
		var ratings = new ArrayList<ScarRating>();
		for (int i = 0; i < dayAndDepth.length; i += 2) {
			var on = day((int) dayAndDepth[i]);
			ratings.add(new ScarRating(on, dayAndDepth[i + 1], DepthMethod.GAUGE, null));
			this.assessed.add(on);
		}
		return scar(new RatedScar(FindingFixture.scarId(label), label, Region.CHEEK_MEDIAL_LEFT, type, ratings));
	}

	SeriesFixture scar(RatedScar scar) {
		this.scars.add(scar);
		return this;
	}

	SeriesFacts facts() {
		var sessions = new ArrayList<SessionFacts>();
		for (var day : this.earlierSessions) {
			var number = sessions.size() + 1;
			sessions.add(new SessionFacts(sessionId(number), SERIES, number, day(day), null, List.of()));
		}
		var last = sessions.size() + 1;
		sessions.add(new SessionFacts(sessionId(last), SERIES, last, DAY_0, this.sessionPain, this.injections));
		if (this.laterSeriesOn != null) {
			sessions.add(new SessionFacts(sessionId(last + 1), LATER_SERIES, last + 1, day(this.laterSeriesOn), null,
					List.of()));
		}
		return new SeriesFacts(SERIES, this.status, this.endedOn, this.skin, sessions,
				this.findings.stream().map((finding) -> finding.facts(last)).toList(),
				this.contacts.stream().map((contact) -> contact.facts(last)).toList(), this.scars, this.assessed);
	}

	private static SessionId sessionId(int number) {
		return SessionId.of("00000000-0000-7000-8000-0000000001%02d".formatted(number));
	}

	/** A contact after the last session unless said otherwise. */
	private record Contact(@Nullable Integer session, int day, ContactOutcome outcome, @Nullable Boolean lumps) {

		ContactFacts facts(int lastSession) {
			return new ContactFacts(sessionId((this.session != null) ? this.session : lastSession),
					SeriesFixture.day(this.day), this.outcome, this.lumps);
		}

	}

	/** A finding of the last session unless said otherwise, first noted on day 0. */
	static final class FindingFixture {

		private final FindingKind kind;

		private final FindingId id = FindingId.next();

		private @Nullable Integer session;

		private boolean withoutSession;

		private @Nullable Region region = Region.CHEEK_MEDIAL_LEFT;

		private @Nullable String scar;

		private int notedOn;

		private @Nullable Integer grade = 1;

		private boolean serious;

		private @Nullable Integer goneOn;

		private @Nullable Integer closedOn;

		private final List<ObservationFacts> observations = new ArrayList<>();

		private FindingFixture(FindingKind kind) {
			this.kind = kind;
		}

		static FindingFixture aLump() {
			return new FindingFixture(FindingKind.LUMP);
		}

		static FindingFixture a(FindingKind kind) {
			return new FindingFixture(kind);
		}

		static ScarId scarId(String label) {
			return new ScarId(
					java.util.UUID.nameUUIDFromBytes(label.getBytes(java.nio.charset.StandardCharsets.UTF_8)));
		}

		FindingFixture ofSession(int number) {
			this.session = number;
			return this;
		}

		FindingFixture ofNoSession() {
			this.withoutSession = true;
			return this;
		}

		FindingFixture inRegion(Region where) {
			this.region = where;
			return this;
		}

		FindingFixture inScar(String label) {
			this.scar = label;
			return this;
		}

		FindingFixture notedOn(int day) {
			this.notedOn = day;
			return this;
		}

		FindingFixture presentOn(int... days) {
			for (int day : days) {
				this.observations.add(new ObservationFacts(day(day), true));
			}
			return this;
		}

		FindingFixture absentOn(int... days) {
			for (int day : days) {
				this.observations.add(new ObservationFacts(day(day), false));
			}
			return this;
		}

		FindingFixture goneOn(int day) {
			this.goneOn = day;
			return this;
		}

		FindingFixture closedOn(int day) {
			this.closedOn = day;
			return this;
		}

		FindingFixture ofGrade(@Nullable Integer ctcae) {
			this.grade = ctcae;
			return this;
		}

		FindingFixture serious() {
			this.serious = true;
			return this;
		}

		FindingFacts facts(int lastSession) {
			var of = (this.session != null) ? this.session : lastSession;
			return new FindingFacts(this.id, this.withoutSession ? null : sessionId(of), this.kind, this.region,
					(this.scar != null) ? scarId(this.scar) : null, this.scar, day(this.notedOn), this.grade,
					this.serious, (this.goneOn != null) ? day(this.goneOn) : null,
					(this.closedOn != null) ? day(this.closedOn) : null, this.observations);
		}

	}

}
