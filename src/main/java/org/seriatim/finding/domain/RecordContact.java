package org.seriatim.finding.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Optional;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.ContactId;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.Role;
import org.seriatim.assessment.Region;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.domain.EntryRefused.Fault;
import org.seriatim.finding.domain.EntryRefused.Rule;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.shell.StaleVersion;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.TreatmentHistory;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Records a contact after a session together with what it says about the lumps of that
 * session. Whoever says that there is no lump at all has said it of each of them.
 */
@Service
@Transactional
public class RecordContact {

	private static final String TOLD_AGAIN = "told again by the patient on the same day";

	/** As much as the form of a contact takes. */
	private static final int MOST_OF_A_NOTE = 2000;

	private final Contacts contacts;

	private final Findings findings;

	private final ObserveFinding observe;

	private final TreatmentHistory treatment;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	RecordContact(Contacts contacts, Findings findings, ObserveFinding observe, TreatmentHistory treatment,
			AuditLog audit, CurrentStaff staff, Clock clock, ApplicationEventPublisher events) {
		this.contacts = contacts;
		this.findings = findings;
		this.observe = observe;
		this.treatment = treatment;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	@Transactional(readOnly = true)
	public Optional<Contact> byId(ContactId id) {
		return this.contacts.findById(id);
	}

	/** The contacts of a session by their days. */
	@Transactional(readOnly = true)
	public List<Contact> of(SessionId session) {
		return this.contacts.findBySession(session)
			.stream()
			.sorted(Comparator.comparing((Contact contact) -> contact.details().contactedOn()))
			.toList();
	}

	/**
	 * The lumps of a session that nobody has closed and that were not seen absent at the
	 * last look.
	 */
	@Transactional(readOnly = true)
	public List<Finding> lumpsToAskFor(RecordedSession session) {
		return this.findings.findByPatient(session.patient())
			.stream()
			.filter((finding) -> finding.kind() == FindingKind.LUMP && finding.isOpen()
					&& session.id().equals(finding.session()) && isLastKnownPresent(finding))
			.sorted(Comparator.comparing(Finding::firstNotedOn).thenComparing((finding) -> finding.id().value()))
			.toList();
	}

	private boolean isLastKnownPresent(Finding finding) {
		return this.observe.of(finding.id())
			.stream()
			.map(Observation::details)
			.max(Comparator.comparing(ObservationDetails::observedOn).thenComparing(ObservationDetails::present))
			.map(ObservationDetails::present)
			.orElse(true);
	}

	/**
	 * @param answers of the single lumps, where they were asked for
	 * @throws EntryRefused if the details break a rule
	 */
	public ContactId after(SessionId id, ContactDetails details, List<LumpAnswer> answers) {
		var session = this.treatment.session(id).orElseThrow();
		var whole = withLumps(details, answers);
		var faults = faults(session, whole, null);
		if (whole.outcome() != ContactOutcome.REACHED && !answers.isEmpty()) {
			faults.add(Fault.of("outcome", Rule.ANSWER_WITHOUT_REACHING));
		}
		if (Boolean.FALSE.equals(details.lumpsPresent()) && answers.stream().anyMatch(LumpAnswer::present)) {
			faults.add(Fault.of("lumpsPresent", Rule.LUMP_IN_SPITE_OF_NONE));
		}
		require(faults);
		var contact = new Contact(session.patient(), id, whole, Recorded.first(this.clock.instant(), this.staff));
		save(contact, Action.CREATED);
		observe(session, whole, answers);
		return contact.id();
	}

	/**
	 * Replaces what was recorded by a new version; what says the same as before changes
	 * nothing. Observations that came with it are corrected where the finding shows them.
	 * @param shown the version that the form showed
	 * @throws EntryRefused if the details break a rule
	 * @throws StaleVersion if somebody else corrected the contact in the meantime
	 */
	public void correct(ContactId id, Long shown, ContactDetails details, String reason) {
		var contact = this.contacts.findById(id).orElseThrow();
		StaleVersion.unlessSame(shown, contact.version(), contact.recorded());
		require(faults(this.treatment.session(contact.session()).orElseThrow(), details, id));
		if (contact.correct(details, Recorded.correction(this.clock.instant(), this.staff, reason))) {
			save(contact, Action.CORRECTED);
		}
	}

	/**
	 * Records what a patient told by a link today. Told again on the same day it becomes
	 * a new version: what was not answered this time stays, and a lump that was there on
	 * that day stays there, whatever was told after or before. A lump on record counts as
	 * seen where the patient points at its region and it is the only one there.
	 * @param unsure whether the patient does not know of lumps, which takes back a no
	 * @param where the regions that the patient named
	 */
	ContactId toldByLink(SessionId id, ContactDetails details, boolean unsure, Set<Region> where) {
		var session = this.treatment.session(id).orElseThrow();
		var earlier = this.contacts.findBySession(id)
			.stream()
			.filter((contact) -> contact.details().channel() == details.channel()
					&& contact.details().contactedOn().equals(details.contactedOn()))
			.findFirst();
		var told = earlier.map((contact) -> together(contact.details(), details, unsure)).orElse(details);
		var contact = earlier.orElseGet(() -> new Contact(session.patient(), id, told, first()));
		if (earlier.isEmpty()) {
			save(contact, Action.CREATED);
		}
		else if (contact.correct(told, again())) {
			save(contact, Action.CORRECTED);
		}
		if (Boolean.TRUE.equals(details.lumpsPresent())) {
			takeBackAbsence(session, details.contactedOn(), where);
		}
		observeAsTold(session, told, where);
		return contact.id();
	}

	private Recorded first() {
		return Recorded.first(this.clock.instant(), this.staff);
	}

	private Recorded again() {
		return Recorded.correction(this.clock.instant(), this.staff, TOLD_AGAIN);
	}

	private static ContactDetails together(ContactDetails before, ContactDetails now, boolean unsure) {
		var lumps = Boolean.TRUE.equals(before.lumpsPresent()) ? before.lumpsPresent()
				: (now.lumpsPresent() != null || unsure) ? now.lumpsPresent() : before.lumpsPresent();
		return new ContactDetails(now.contactedOn(), now.channel(), now.outcome(), lumps,
				(now.painNrs() != null) ? now.painNrs() : before.painNrs(), together(before.note(), now.note()));
	}

	/* The earlier version keeps what no longer fits into a note that can be corrected. */
	private static @Nullable String together(@Nullable String before, @Nullable String now) {
		if (before == null || now == null || before.equals(now)) {
			return (now != null) ? now : before;
		}
		var both = before + "\n" + now;
		return (both.length() <= MOST_OF_A_NOTE) ? both : now;
	}

	/* An observation that is on record stays as it is: what was told may not be lost. */
	private void observeAsTold(RecordedSession session, ContactDetails told, Set<Region> where) {
		var asked = lumpsToAskFor(session);
		for (var lump : asked) {
			var region = lump.details().region();
			var pointedAt = Boolean.TRUE.equals(told.lumpsPresent()) && region != null && where.contains(region)
					&& asked.stream().filter((other) -> region == other.details().region()).count() == 1;
			if ((pointedAt || Boolean.FALSE.equals(told.lumpsPresent()))
					&& !told.contactedOn().isBefore(lump.firstNotedOn())) {
				this.observe.recordUnlessKnown(lump,
						new ObservationDetails(told.contactedOn(), Reporter.PATIENT, told.channel(), pointedAt, null));
			}
		}
	}

	/*
	 * "None at all" of earlier that day no longer stands for the lumps that may be meant;
	 * that it lasted longer is the safe side.
	 */
	private void takeBackAbsence(RecordedSession session, LocalDate today, Set<Region> where) {
		for (var lump : this.findings.findByPatient(session.patient())) {
			var region = lump.details().region();
			if (lump.kind() != FindingKind.LUMP || !session.id().equals(lump.session())
					|| !where.isEmpty() && region != null && !where.contains(region)) {
				continue;
			}
			for (var observation : this.observe.of(lump.id())) {
				var seen = observation.details();
				if (seen.observedOn().equals(today) && seen.channel() == Channel.LINK
						&& seen.reporter() == Reporter.PATIENT && !seen.present()) {
					this.observe.correct(observation.id(), observation.version(),
							new ObservationDetails(today, Reporter.PATIENT, Channel.LINK, true, null), TOLD_AGAIN);
				}
			}
		}
	}

	private static ContactDetails withLumps(ContactDetails details, List<LumpAnswer> answers) {
		if (details.lumpsPresent() != null || answers.isEmpty()) {
			return details;
		}
		return new ContactDetails(details.contactedOn(), details.channel(), details.outcome(),
				answers.stream().anyMatch(LumpAnswer::present), details.painNrs(), details.note());
	}

	private void observe(RecordedSession session, ContactDetails details, List<LumpAnswer> answers) {
		var byLump = new HashMap<FindingId, LumpAnswer>();
		answers.forEach((answer) -> byLump.put(answer.lump(), answer));
		for (var lump : lumpsToAskFor(session)) {
			var answer = byLump.get(lump.id());
			if (answer == null && Boolean.FALSE.equals(details.lumpsPresent())) {
				answer = new LumpAnswer(lump.id(), false, null);
			}
			if (answer != null && !details.contactedOn().isBefore(lump.firstNotedOn())) {
				observe(lump, details, answer);
			}
		}
	}

	private void observe(Finding lump, ContactDetails details, LumpAnswer answer) {
		var reporter = (details.channel() == Channel.VISIT && this.staff.has(Role.PRACTITIONER)) ? Reporter.PRACTITIONER
				: Reporter.PATIENT;
		var seen = new ObservationDetails(details.contactedOn(), reporter, details.channel(), answer.present(),
				answer.present() ? answer.sizeMm() : null);
		if (this.observe.recordUnlessKnown(lump, seen)) {
			throw new EntryRefused("lumpsPresent", Rule.ALREADY_OBSERVED);
		}
	}

	private List<Fault> faults(RecordedSession session, ContactDetails details, @Nullable ContactId corrected) {
		var faults = new ArrayList<Fault>();
		var today = LocalDate.now(this.clock);
		if (details.contactedOn().isAfter(today)) {
			faults.add(Fault.of("contactedOn", Rule.IN_THE_FUTURE, today));
		}
		if (details.contactedOn().isBefore(session.treatedOn())) {
			faults.add(Fault.of("contactedOn", Rule.BEFORE_SESSION, session.treatedOn()));
		}
		if (details.outcome() != ContactOutcome.REACHED && details.hasAnswers()) {
			faults.add(Fault.of("outcome", Rule.ANSWER_WITHOUT_REACHING));
		}
		if (isTaken(this.contacts.findBySession(session.id()), details, corrected)) {
			faults.add(Fault.of("contactedOn", Rule.ALREADY_CONTACTED));
		}
		return faults;
	}

	private static boolean isTaken(Collection<Contact> contacts, ContactDetails details,
			@Nullable ContactId corrected) {
		return contacts.stream()
			.filter((other) -> !other.id().equals(corrected))
			.map(Contact::details)
			.anyMatch((other) -> other.contactedOn().equals(details.contactedOn())
					&& other.channel() == details.channel());
	}

	private static void require(List<Fault> faults) {
		if (!faults.isEmpty()) {
			throw new EntryRefused(faults);
		}
	}

	private void save(Contact contact, Action action) {
		this.contacts.saveAndFlush(contact);
		this.audit.record(action, "contact", contact.id().value(), contact.patient().value());
		this.events.publishEvent(new PatientRecordChanged(contact.patient()));
	}

}
