package org.seriatim.screening;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;
import org.seriatim.shell.StaleVersion;

/**
 * Keeps what is settled before a session. Answers of who is no licensed clinician are
 * drafts. Every method refuses with {@link ScreeningRefused} what breaks a rule, and with
 * {@link StaleVersion} what was changed after the page was opened.
 */
public interface ScreeningEntries {

	/**
	 * An answer as a form gives it.
	 *
	 * @param item what it is called in the records
	 * @param version of the answer of today that the form showed, none if there was none
	 */
	record Given(String item, Answer answer, @Nullable String note, @Nullable LocalDate lastDoseOn,
			@Nullable Long version) {
	}

	/** An entry that a page showed, by its version. */
	record Shown(UUID id, Long version) {
	}

	/**
	 * Keeps answers of today; what says the same as before changes nothing.
	 * @param reason why an answer of today is changed, where one is that was no draft
	 * @return how many were kept
	 */
	int answer(PatientId patient, List<Given> answers, @Nullable String reason);

	/**
	 * Keeps for today what was answered earlier, after the patient was asked again.
	 * @return how many were kept
	 */
	int asLastTime(PatientId patient, List<Shown> earlier);

	/**
	 * Makes drafts answers.
	 * @return how many
	 */
	int takeOver(PatientId patient, List<Shown> drafts);

	/**
	 * Decides for today on an item that is not cleared; a draft is taken over with it.
	 * @param about the answer that the page showed
	 * @param version of today's decision that the page showed, none if there was none
	 */
	void decide(PatientId patient, @Nullable LocalDate lastTreatedOn, String item, Answer about, Verdict verdict,
			@Nullable String reason, @Nullable Long version);

	/** Says what is planned for today. */
	void plan(PatientId patient, @Nullable Boolean radiofrequency, @Nullable Boolean prilocaine,
			@Nullable Long version);

	/**
	 * Keeps a weight, or corrects the one of that day.
	 * @param version of the weight of that day that the page showed, none if there was
	 * none
	 */
	void weigh(PatientId patient, LocalDate on, BigDecimal kilograms, @Nullable Long version, @Nullable String reason);

	void giveConsent(PatientId patient, LocalDate on, String documentReference);

	void withdrawConsent(PatientId patient, Shown consent, LocalDate on, String reason);

	void startNumbing(PatientId patient, Instant at);

	void stopNumbing(PatientId patient, Shown numbing, Instant at);

	/**
	 * Corrects the times of a cream, both on the day on which it was started.
	 * @param stop {@code null} leaves it on
	 */
	void correctNumbing(PatientId patient, Shown numbing, LocalTime start, @Nullable LocalTime stop, String reason);

	void planNumbing(PatientId patient, int minutes, @Nullable Long version);

}
