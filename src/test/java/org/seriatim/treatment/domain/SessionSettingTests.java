package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.RecordedSession;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SeriesSummary;
import org.seriatim.treatment.SessionId;
import org.seriatim.treatment.Target;
import org.seriatim.treatment.domain.SessionDetails.Injected;
import org.seriatim.treatment.domain.SessionDetails.Prepared;

import static org.assertj.core.api.Assertions.assertThat;

class SessionSettingTests {

	private static final LocalDate TODAY = LocalDate.parse("2026-11-20");

	private static final PatientId PATIENT = PatientId.next();

	private static final SeriesId SERIES = SeriesId.next();

	private static final StaffId PRACTITIONER = new StaffId(UUID.randomUUID());

	private final ScarId scar = ScarId.next();

	private final RecordedSession first = session(1, "2026-08-01");

	private final RecordedSession third = session(3, "2026-10-01");

	@Test
	void givesANewSessionTheNextNumber() {
		assertThat(setting(openSeries(), null).nextNumber()).isEqualTo(4);
		assertThat(new SessionSetting(openSeries(), null, List.of(), Set.of(), TODAY, ZoneOffset.UTC).nextNumber())
			.isEqualTo(1);
	}

	@Test
	void takesWhatKeepsTheRules() {
		assertThat(faults(details(2, "2026-08-01"))).isEmpty();
		assertThat(faults(details(2, "2026-10-01"))).isEmpty();
		assertThat(faults(details(4, "2026-11-20"))).isEmpty();
	}

	@Test
	void refusesADayThatFallsAsNumbersRise() {
		assertThat(faults(details(2, "2026-07-31")))
			.containsExactly(SessionFault.of(SessionRule.BEFORE_EARLIER_NUMBER, 1, LocalDate.parse("2026-08-01")));
		assertThat(faults(details(2, "2026-10-02")))
			.containsExactly(SessionFault.of(SessionRule.AFTER_LATER_NUMBER, 3, LocalDate.parse("2026-10-01")));
	}

	@Test
	void comparesACorrectedSessionWithTheOthersOnly() {
		assertThat(setting(openSeries(), this.third.id()).faults(details(3, "2026-08-01"))).isEmpty();
	}

	@Test
	void refusesANumberThatAnotherSessionHas() {
		assertThat(faults(details(3, "2026-11-01")))
			.containsExactly(SessionFault.of(SessionRule.NUMBER_TAKEN, 3, LocalDate.parse("2026-10-01")));
	}

	@Test
	void refusesADayToCome() {
		assertThat(faults(details(4, "2026-11-21"))).containsExactly(SessionFault.of(SessionRule.IN_THE_FUTURE));
	}

	@Test
	void refusesANewSessionOfAnEndedSeries() {
		assertThat(setting(endedSeries(), null).faults(details(4, "2026-10-10")))
			.containsExactly(SessionFault.of(SessionRule.SERIES_ENDED, 1));
	}

	@Test
	void letsASessionOfAnEndedSeriesBeCorrectedWithinTheSeries() {
		var setting = setting(endedSeries(), this.third.id());
		assertThat(setting.faults(details(3, "2026-10-12"))).isEmpty();
		assertThat(setting.faults(details(3, "2026-10-16")))
			.containsExactly(SessionFault.of(SessionRule.AFTER_END_OF_SERIES, LocalDate.parse("2026-10-15")));
	}

	@Test
	void refusesADepthWithoutRadiofrequency() {
		assertThat(faults(withDepth(null))).containsExactly(SessionFault.of(SessionRule.DEPTH_WITHOUT_RADIOFREQUENCY));
		assertThat(faults(withDepth(Combination.NONE)))
			.containsExactly(SessionFault.of(SessionRule.DEPTH_WITHOUT_RADIOFREQUENCY));
		assertThat(faults(withDepth(Combination.RF_AFTER))).isEmpty();
	}

	@Test
	void refusesMoreStockThanWasInTheVial() {
		assertThat(faults(prepared("6.0", "6.2", "0", null)))
			.containsExactly(SessionFault.ofPart(SessionRule.STOCK_EXCEEDS_DILUENT, 1, new BigDecimal("6.0")));
		assertThat(faults(prepared("6.0", "6.0", "0", null))).isEmpty();
	}

	@Test
	void asksForTheStrengthOfLidocaine() {
		assertThat(faults(prepared("5", "5", "1", null)))
			.containsExactly(SessionFault.ofPart(SessionRule.LIDOCAINE_WITHOUT_STRENGTH, 1));
		assertThat(faults(prepared("5", "5", "1", "2"))).isEmpty();
	}

	@Test
	void refusesAnInjectionFromAPreparationThatIsNotThere() {
		assertThat(faults(injected(2, null, Target.PORES)))
			.containsExactly(SessionFault.ofPart(SessionRule.UNKNOWN_PREPARATION, 7, 2));
		assertThat(faults(injected(1, null, Target.PORES))).isEmpty();
		assertThat(faults(injected(null, null, Target.PORES))).isEmpty();
	}

	@Test
	void refusesAScarOfAnotherPatient() {
		assertThat(faults(injected(1, ScarId.next(), Target.SCAR)))
			.containsExactly(SessionFault.ofPart(SessionRule.SCAR_OF_ANOTHER_PATIENT, 7));
		assertThat(faults(injected(1, this.scar, Target.SCAR))).isEmpty();
	}

	@Test
	void refusesAScarForPores() {
		assertThat(faults(injected(1, this.scar, Target.PORES)))
			.containsExactly(SessionFault.ofPart(SessionRule.SCAR_FOR_PORES, 7));
	}

	private List<SessionFault> faults(SessionDetails details) {
		return setting(openSeries(), null).faults(details);
	}

	private SessionSetting setting(SeriesSummary series, @Nullable SessionId session) {
		return new SessionSetting(series, session, List.of(this.third, this.first), Set.of(this.scar), TODAY,
				ZoneOffset.UTC);
	}

	private static SeriesSummary openSeries() {
		return new SeriesSummary(SERIES, PATIENT, 1, null, null, SeriesStatus.OPEN, null, null, 1);
	}

	private static SeriesSummary endedSeries() {
		return new SeriesSummary(SERIES, PATIENT, 1, null, null, SeriesStatus.COMPLETED, LocalDate.parse("2026-10-15"),
				"goal reached", 1);
	}

	private static SessionDetails details(int number, String day) {
		return new SessionDetails(number, LocalDate.parse(day), PRACTITIONER, Circumstances.UNKNOWN, List.of(),
				List.of());
	}

	private static SessionDetails withDepth(@Nullable Combination combination) {
		return new SessionDetails(4, TODAY, PRACTITIONER,
				new Circumstances(null, combination, new BigDecimal("1.5"), null, null, null, null, null), List.of(),
				List.of());
	}

	private static SessionDetails prepared(String diluent, String drawn, String lidocaine, @Nullable String percent) {
		return new SessionDetails(4, TODAY, PRACTITIONER, Circumstances.UNKNOWN, List.of(new Prepared(1,
				new Reconstitution("biostimulator A", null, null, null, new BigDecimal(diluent), new BigDecimal(drawn),
						null, (percent != null) ? new BigDecimal(percent) : null, new BigDecimal(lidocaine), null))),
				List.of());
	}

	private static SessionDetails injected(@Nullable Integer preparation, @Nullable ScarId scar, Target target) {
		var vial = new Reconstitution("biostimulator A", null, null, null, null, null, null, null, null, null);
		return new SessionDetails(4, TODAY, PRACTITIONER, Circumstances.UNKNOWN, List.of(new Prepared(1, vial)),
				List.of(new Injected(7, preparation, new Placement(Region.FOREHEAD, scar, target, null, null, null,
						null, null, null, null, null, null, null, null))));
	}

	private static RecordedSession session(int number, String day) {
		return new RecordedSession(SessionId.next(), PATIENT, SERIES, number, LocalDate.parse(day), PRACTITIONER, null,
				null, null, null, null, null, null, null, List.of(), List.of());
	}

}
