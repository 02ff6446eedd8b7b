package org.seriatim.screening.domain;

import java.math.BigDecimal;
import java.sql.Types;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.screening.Answer;
import org.seriatim.screening.AskedItem;
import org.seriatim.screening.GivenAnswer;
import org.seriatim.screening.ListedItem;
import org.seriatim.screening.Numbing;
import org.seriatim.screening.NumbingStopped;
import org.seriatim.screening.ScreenedItem;
import org.seriatim.screening.ScreeningEntries;
import org.seriatim.screening.ScreeningItem;
import org.seriatim.screening.ScreeningList;
import org.seriatim.screening.ScreeningRefused;
import org.seriatim.screening.ScreeningRefused.Rule;
import org.seriatim.screening.Verdict;
import org.seriatim.shell.StaleVersion;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.core.simple.JdbcClient.StatementSpec;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
@Transactional
class KeepScreening implements ScreeningEntries {

	private static final String ANSWER = """
			select id, item, question, asked_on, answer, asked_by, confirmed_by, note, last_dose_on, list_version, version
			from screening_answer\s""";

	private final JdbcClient database;

	private final RecordedScreening screening;

	private final ScreeningLists lists;

	private final PatientDirectory patients;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	private final ApplicationEventPublisher events;

	KeepScreening(JdbcClient database, RecordedScreening screening, ScreeningLists lists, PatientDirectory patients,
			AuditLog audit, CurrentStaff staff, Clock clock, ApplicationEventPublisher events) {
		this.database = database;
		this.screening = screening;
		this.lists = lists;
		this.patients = patients;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
		this.events = events;
	}

	@Override
	public int answer(PatientId patient, List<Given> answers, @Nullable String reason) {
		hold(patient);
		var list = this.lists.current();
		var kept = 0;
		for (var given : answers) {
			var item = asked(list, given.item());
			requireDose(item, given);
			var stored = ofToday(patient, given.item()).orElse(null);
			var inTheseWords = (stored != null && stored.item().question().equals(item.question())) ? stored : null;
			if (inTheseWords != null && saysTheSame(inTheseWords, given)) {
				continue;
			}
			StaleVersion.unlessSame(given.version(), (stored != null) ? stored.version() : null);
			var corrected = inTheseWords != null && !inTheseWords.isDraft();
			if (corrected && reason == null) {
				throw new ScreeningRefused(Rule.CHANGED_WITHOUT_REASON, item);
			}
			keep(patient, stored, given, list, corrected ? reason : null);
			kept++;
		}
		return changed(patient, kept);
	}

	private static ListedItem asked(ScreeningList list, String word) {
		var item = list.item(word).orElseThrow(() -> new ScreeningRefused(Rule.NOT_ASKED, word));
		if (!item.isInUse()) {
			throw new ScreeningRefused(Rule.NOT_ASKED, item);
		}
		return item;
	}

	/** What is known of the last dose is all that the item tells. */
	private void requireDose(ListedItem item, Given given) {
		if (given.lastDoseOn() != null && given.lastDoseOn().isAfter(today())) {
			throw new ScreeningRefused(Rule.DOSE_IN_THE_FUTURE, item);
		}
		if (item.is(ScreeningItem.ISOTRETINOIN) && given.answer() == Answer.YES && given.lastDoseOn() == null
				&& given.note() == null) {
			throw new ScreeningRefused(Rule.DOSE_NOT_SAID, item);
		}
	}

	private static boolean saysTheSame(GivenAnswer stored, Given given) {
		return stored.answer() == given.answer() && Objects.equals(stored.note(), given.note())
				&& Objects.equals(stored.lastDoseOn(), given.lastDoseOn());
	}

	private void keep(PatientId patient, @Nullable GivenAnswer stored, Given given, ScreeningList list,
			@Nullable String reason) {
		var id = (stored != null) ? stored.id() : UUID.randomUUID();
		var sql = (stored == null) ? """
				insert into screening_answer (id, patient_id, item, asked_on, answer, asked_by, confirmed_by, note,
					last_dose_on, list_version, recorded_at, recorded_by, correction_reason)
				values (:id, :patient, :item, :today, :answer, :staff, :confirmed, :note, :dose, :list, :now, :staff,
					:reason)""" : """
				update screening_answer
				set answer = :answer, asked_by = :staff, confirmed_by = :confirmed, note = :note, last_dose_on = :dose,
					list_version = :list, recorded_at = :now, recorded_by = :staff, correction_reason = :reason,
					version = version + 1
				where id = :id and patient_id = :patient and item = :item and asked_on = :today""";
		recording(sql, id, patient, reason).param("item", given.item())
			.param("today", today())
			.param("answer", given.answer().word())
			.param("confirmed", isLicensed() ? writer().value() : null, Types.OTHER)
			.param("note", given.note(), Types.VARCHAR)
			.param("dose", given.lastDoseOn(), Types.DATE)
			.param("list", list.number())
			.update();
		this.audit.record((stored == null) ? Action.CREATED : Action.CORRECTED, "screening_answer", id,
				patient.value());
	}

	@Override
	public int asLastTime(PatientId patient, List<Shown> earlier) {
		hold(patient);
		var list = this.lists.current();
		var kept = 0;
		for (var shown : earlier) {
			var last = shown(patient, shown);
			// two who ask at the same time have both asked; what is asked otherwise now
			// was not
			if (ofToday(patient, last.item().word()).isPresent() || !isAskedLike(list, last.item())) {
				continue;
			}
			keep(patient, null, new Given(last.item().word(), last.answer(), last.note(), last.lastDoseOn(), null),
					list, null);
			kept++;
		}
		return changed(patient, kept);
	}

	private static boolean isAskedLike(ScreeningList list, AskedItem asked) {
		return list.item(asked.word())
			.filter((item) -> item.isInUse() && item.question().equals(asked.question()))
			.isPresent();
	}

	@Override
	public int takeOver(PatientId patient, List<Shown> drafts) {
		hold(patient);
		var taken = 0;
		for (var shown : drafts) {
			var draft = shown(patient, shown);
			if (draft.isDraft()) {
				confirm(patient, draft);
				taken++;
			}
		}
		return changed(patient, taken);
	}

	private void confirm(PatientId patient, GivenAnswer draft) {
		requireLicensed();
		recording("""
				update screening_answer
				set confirmed_by = :staff, recorded_at = :now, recorded_by = :staff, correction_reason = :reason,
					version = version + 1
				where id = :id and patient_id = :patient""", draft.id(), patient, null).update();
		this.audit.record(Action.DECIDED, "screening_answer", draft.id(), patient.value());
	}

	private GivenAnswer shown(PatientId patient, Shown shown) {
		var stored = this.database.sql(ANSWER + "where id = :id and patient_id = :patient")
			.param("id", shown.id())
			.param("patient", patient.value())
			.query(RecordedScreening::answer)
			.optional()
			.orElse(null);
		StaleVersion.unlessSame(shown.version(), (stored != null) ? stored.version() : null);
		return Objects.requireNonNull(stored);
	}

	private Optional<GivenAnswer> ofToday(PatientId patient, String item) {
		return this.database.sql(ANSWER + "where patient_id = :patient and item = :item and asked_on = :today")
			.param("patient", patient.value())
			.param("item", item)
			.param("today", today())
			.query(RecordedScreening::answer)
			.optional();
	}

	@Override
	public void decide(PatientId patient, @Nullable LocalDate lastTreatedOn, String word, Answer about, Verdict verdict,
			@Nullable String reason, @Nullable Long version) {
		hold(patient);
		requireLicensed();
		var list = this.lists.current();
		var item = asked(list, word);
		if (item.isStop() == (verdict == Verdict.ACKNOWLEDGED)) {
			throw new ScreeningRefused(Rule.VERDICT_OF_ANOTHER_LEVEL, item);
		}
		if (verdict != Verdict.ACKNOWLEDGED && reason == null) {
			throw new ScreeningRefused(Rule.DECIDED_WITHOUT_REASON, item);
		}
		var now = this.screening.of(patient, today(), lastTreatedOn)
			.items()
			.stream()
			.filter((one) -> one.item().equals(item))
			.findFirst()
			.orElseThrow(() -> new ScreeningRefused(Rule.NOTHING_TO_DECIDE, item));
		if (now.about() == null) {
			throw new ScreeningRefused(Rule.NOTHING_TO_DECIDE, item);
		}
		var decision = now.decision();
		StaleVersion.unlessSame(version, (decision != null) ? decision.version() : null);
		StaleVersion.unlessSame((long) about.ordinal(), (long) Objects.requireNonNull(now.about()).ordinal());
		keep(patient, now, list, verdict, reason);
		changed(patient, 1);
	}

	private void keep(PatientId patient, ScreenedItem now, ScreeningList list, Verdict verdict,
			@Nullable String reason) {
		if (now.isDraft()) {
			confirm(patient, Objects.requireNonNull(now.answer()));
		}
		var decision = now.decision();
		var id = (decision != null) ? decision.id() : UUID.randomUUID();
		var sql = (decision == null) ? """
				insert into screening_decision (id, patient_id, item, decided_on, about, verdict, reason, decided_by,
					list_version, recorded_at, recorded_by, correction_reason)
				values (:id, :patient, :item, :today, :about, :verdict, :why, :staff, :list, :now, :staff, :reason)"""
				: """
						update screening_decision
						set about = :about, verdict = :verdict, reason = :why, decided_by = :staff, list_version = :list,
							recorded_at = :now, recorded_by = :staff, correction_reason = :reason, version = version + 1
						where id = :id and patient_id = :patient and item = :item and decided_on = :today""";
		recording(sql, id, patient, (decision != null) ? reason : null).param("item", now.item().word())
			.param("today", today())
			.param("about", Objects.requireNonNull(now.about()).word())
			.param("verdict", verdict.word())
			.param("why", reason, Types.VARCHAR)
			.param("list", list.number())
			.update();
		this.audit.record(Action.DECIDED, "screening_decision", id, patient.value());
	}

	@Override
	public void plan(PatientId patient, @Nullable Boolean radiofrequency, @Nullable Boolean prilocaine,
			@Nullable Long version) {
		hold(patient);
		var stored = this.screening.plan(patient, today());
		StaleVersion.unlessSame(version, stored.version());
		var id = this.database
			.sql("""
					insert into screening_plan (patient_id, planned_for, radiofrequency, prilocaine, recorded_at, recorded_by)
					values (:patient, :today, :radiofrequency, :prilocaine, :now, :staff)
					on conflict (patient_id, planned_for) do update
					set radiofrequency = excluded.radiofrequency, prilocaine = excluded.prilocaine,
						recorded_at = excluded.recorded_at, recorded_by = excluded.recorded_by,
						version = screening_plan.version + 1
					returning id""")
			.param("patient", patient.value())
			.param("today", today())
			.param("radiofrequency", radiofrequency, Types.BOOLEAN)
			.param("prilocaine", prilocaine, Types.BOOLEAN)
			.param("now", now())
			.param("staff", writer().value())
			.query(UUID.class)
			.single();
		this.audit.record((stored.version() == null) ? Action.CREATED : Action.CORRECTED, "screening_plan", id,
				patient.value());
		changed(patient, 1);
	}

	@Override
	public void weigh(PatientId patient, LocalDate on, BigDecimal kilograms, @Nullable Long version,
			@Nullable String reason) {
		hold(patient);
		if (on.isAfter(today())) {
			throw new ScreeningRefused(Rule.WEIGHED_IN_THE_FUTURE, today());
		}
		var stored = this.screening.weightsOf(patient)
			.stream()
			.filter((weight) -> weight.weighedOn().equals(on))
			.findFirst()
			.orElse(null);
		if (stored != null && stored.weightKg().compareTo(kilograms) == 0) {
			return;
		}
		if (stored != null && reason == null) {
			throw new ScreeningRefused(Rule.WEIGHT_WITHOUT_REASON, on, stored.weightKg());
		}
		// the page shows the version of today's weight alone
		if (on.equals(today())) {
			StaleVersion.unlessSame(version, (stored != null) ? stored.version() : null);
		}
		var id = (stored != null) ? stored.id() : UUID.randomUUID();
		recording((stored == null) ? """
				insert into body_weight (id, patient_id, weighed_on, weight_kg, recorded_at, recorded_by,
					correction_reason)
				values (:id, :patient, :on, :kilograms, :now, :staff, :reason)""" : """
				update body_weight
				set weight_kg = :kilograms, recorded_at = :now, recorded_by = :staff, correction_reason = :reason,
					version = version + 1
				where id = :id and patient_id = :patient and weighed_on = :on""", id, patient,
				(stored != null) ? reason : null)
			.param("on", on)
			.param("kilograms", kilograms)
			.update();
		this.audit.record((stored == null) ? Action.CREATED : Action.CORRECTED, "body_weight", id, patient.value());
		changed(patient, 1);
	}

	@Override
	public void giveConsent(PatientId patient, LocalDate on, String documentReference) {
		hold(patient);
		if (on.isAfter(today())) {
			throw new ScreeningRefused(Rule.CONSENT_IN_THE_FUTURE, today());
		}
		if (this.screening.consentsOf(patient)
			.stream()
			.anyMatch((consent) -> consent.withdrawnOn() == null && consent.givenOn().equals(on))) {
			throw new ScreeningRefused(Rule.CONSENT_THAT_DAY, on);
		}
		var id = UUID.randomUUID();
		recording("""
				insert into treatment_consent (id, patient_id, given_on, document_reference, recorded_at, recorded_by,
					correction_reason)
				values (:id, :patient, :on, :document, :now, :staff, :reason)""", id, patient, null).param("on", on)
			.param("document", documentReference.strip())
			.update();
		this.audit.record(Action.CREATED, "treatment_consent", id, patient.value());
		changed(patient, 1);
	}

	@Override
	public void withdrawConsent(PatientId patient, Shown consent, LocalDate on, String reason) {
		hold(patient);
		var stored = this.screening.consentsOf(patient)
			.stream()
			.filter((one) -> one.id().equals(consent.id()))
			.findFirst()
			.orElseThrow();
		if (stored.withdrawnOn() != null) {
			throw new ScreeningRefused(Rule.WITHDRAWN_ALREADY, stored.withdrawnOn());
		}
		StaleVersion.unlessSame(consent.version(), stored.version(), stored.recorded());
		if (on.isAfter(today())) {
			throw new ScreeningRefused(Rule.WITHDRAWAL_IN_THE_FUTURE, today());
		}
		if (on.isBefore(stored.givenOn())) {
			throw new ScreeningRefused(Rule.WITHDRAWN_BEFORE_GIVEN, stored.givenOn());
		}
		recording("""
				update treatment_consent
				set withdrawn_on = :on, recorded_at = :now, recorded_by = :staff, correction_reason = :reason,
					version = version + 1
				where id = :id and patient_id = :patient""", consent.id(), patient, reason.strip()).param("on", on)
			.update();
		this.audit.record(Action.CORRECTED, "treatment_consent", consent.id(), patient.value());
		changed(patient, 1);
	}

	@Override
	public void startNumbing(PatientId patient, Instant at) {
		hold(patient);
		if (this.screening.numbingOf(patient, today()).stream().anyMatch(Numbing::isOn)) {
			throw new ScreeningRefused(Rule.NUMBING_IS_ON);
		}
		requireStart(at, today());
		var id = UUID.randomUUID();
		recording("""
				insert into numbing (id, patient_id, started_at, recorded_at, recorded_by, correction_reason)
				values (:id, :patient, :at, :now, :staff, :reason)""", id, patient, null).param("at", time(at))
			.update();
		this.audit.record(Action.CREATED, "numbing", id, patient.value());
		changed(patient, 1);
	}

	@Override
	public void stopNumbing(PatientId patient, Shown numbing, Instant at) {
		hold(patient);
		var stored = numbing(patient, numbing);
		if (!stored.isOn()) {
			throw new ScreeningRefused(Rule.NUMBING_IS_STOPPED);
		}
		StaleVersion.unlessSame(numbing.version(), stored.version());
		requireStop(stored.startedAt(), at);
		keep(patient, stored, stored.startedAt(), at, null);
	}

	@Override
	public void correctNumbing(PatientId patient, Shown numbing, LocalTime from, @Nullable LocalTime until,
			String reason) {
		hold(patient);
		var stored = numbing(patient, numbing);
		StaleVersion.unlessSame(numbing.version(), stored.version());
		var day = dayOf(stored.startedAt());
		var start = day.atTime(from).atZone(this.clock.getZone()).toInstant();
		var stop = (until != null) ? day.atTime(until).atZone(this.clock.getZone()).toInstant() : null;
		requireStart(start, day);
		if (stop != null) {
			requireStop(start, stop);
		}
		else if (!stored.isOn() && this.screening.numbingOf(patient, today()).stream().anyMatch(Numbing::isOn)) {
			throw new ScreeningRefused(Rule.NUMBING_IS_ON);
		}
		keep(patient, stored, start, stop, reason.strip());
	}

	private Numbing numbing(PatientId patient, Shown shown) {
		return this.screening.numbingOf(patient, today())
			.stream()
			.filter((one) -> one.id().equals(shown.id()))
			.findFirst()
			.orElseThrow();
	}

	private void requireStart(Instant start, LocalDate day) {
		if (start.isAfter(this.clock.instant())) {
			throw new ScreeningRefused(Rule.START_IN_THE_FUTURE);
		}
		if (!dayOf(start).equals(day)) {
			throw new ScreeningRefused(Rule.START_NOT_TODAY);
		}
	}

	private void requireStop(Instant start, Instant stop) {
		if (stop.isAfter(this.clock.instant())) {
			throw new ScreeningRefused(Rule.STOP_IN_THE_FUTURE);
		}
		if (stop.isBefore(start)) {
			throw new ScreeningRefused(Rule.STOP_BEFORE_START);
		}
	}

	private void keep(PatientId patient, Numbing stored, Instant start, @Nullable Instant stop,
			@Nullable String reason) {
		var day = dayOf(start);
		var before = this.screening.numbingMinutes(patient, day).orElse(null);
		recording("""
				update numbing
				set started_at = :start, stopped_at = :stop, recorded_at = :now, recorded_by = :staff,
					correction_reason = :reason, version = version + 1
				where id = :id and patient_id = :patient""", stored.id(), patient, reason).param("start", time(start))
			.param("stop", (stop != null) ? time(stop) : null, Types.TIMESTAMP_WITH_TIMEZONE)
			.update();
		this.audit.record(Action.CORRECTED, "numbing", stored.id(), patient.value());
		changed(patient, 1);
		this.screening.numbingMinutes(patient, day)
			.ifPresent((minutes) -> this.events.publishEvent(new NumbingStopped(patient, day, before, minutes)));
	}

	@Override
	public void planNumbing(PatientId patient, int minutes, @Nullable Long version) {
		hold(patient);
		var stored = this.screening.numbingPlanOf(patient).orElse(null);
		StaleVersion.unlessSame(version, (stored != null) ? stored.version() : null);
		var id = this.database.sql("""
				insert into numbing_plan (patient_id, minutes, recorded_at, recorded_by)
				values (:patient, :minutes, :now, :staff)
				on conflict (patient_id) do update
				set minutes = excluded.minutes, recorded_at = excluded.recorded_at,
					recorded_by = excluded.recorded_by, version = numbing_plan.version + 1
				returning id""")
			.param("patient", patient.value())
			.param("minutes", minutes)
			.param("now", now())
			.param("staff", writer().value())
			.query(UUID.class)
			.single();
		this.audit.record((stored == null) ? Action.CREATED : Action.CORRECTED, "numbing_plan", id, patient.value());
		changed(patient, 1);
	}

	private StatementSpec recording(String sql, UUID id, PatientId patient, @Nullable String reason) {
		return this.database.sql(sql)
			.param("id", id)
			.param("patient", patient.value())
			.param("now", now())
			.param("staff", writer().value())
			.param("reason", reason, Types.VARCHAR);
	}

	private int changed(PatientId patient, int entries) {
		if (entries > 0) {
			this.events.publishEvent(new PatientRecordChanged(patient));
		}
		return entries;
	}

	/** Two who write at the same time do so one after the other. */
	private void hold(PatientId patient) {
		this.patients.requireExisting(patient);
		this.database.sql("select id from patient where id = :patient for no key update")
			.param("patient", patient.value())
			.query()
			.singleRow();
	}

	private boolean isLicensed() {
		return this.staff.has(Role.PRACTITIONER) || this.staff.has(Role.CLINIC_LEAD);
	}

	private void requireLicensed() {
		if (!isLicensed()) {
			throw new IllegalStateException("only a licensed clinician decides");
		}
	}

	private StaffId writer() {
		return this.staff.id().orElseThrow(() -> new IllegalStateException("an answer is written by somebody"));
	}

	private LocalDate today() {
		return LocalDate.now(this.clock);
	}

	private LocalDate dayOf(Instant time) {
		return LocalDate.ofInstant(time, this.clock.getZone());
	}

	private OffsetDateTime now() {
		return OffsetDateTime.now(this.clock);
	}

	/** Whole minutes: nobody times a cream by the second. */
	private OffsetDateTime time(Instant time) {
		return time.truncatedTo(ChronoUnit.MINUTES).atZone(this.clock.getZone()).toOffsetDateTime();
	}

}
