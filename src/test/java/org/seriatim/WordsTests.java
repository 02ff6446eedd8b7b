package org.seriatim;

import java.util.Arrays;
import java.util.Locale;
import java.util.ResourceBundle;
import java.util.stream.Stream;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

import org.seriatim.access.Role;
import org.seriatim.assessment.CountedType;
import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarStanding;
import org.seriatim.assessment.ScarType;
import org.seriatim.finding.ActionClass;
import org.seriatim.finding.CarriedOut;
import org.seriatim.finding.Causality;
import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingCourse;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.FindingSide;
import org.seriatim.finding.HowReported;
import org.seriatim.finding.LumpForm;
import org.seriatim.finding.NoticedBy;
import org.seriatim.finding.OnsetClass;
import org.seriatim.finding.ReportDecision;
import org.seriatim.finding.Reporter;
import org.seriatim.finding.SeriousnessCriterion;
import org.seriatim.followup.AppointmentPurpose;
import org.seriatim.followup.AppointmentStatus;
import org.seriatim.patient.Sebum;
import org.seriatim.patient.Sex;
import org.seriatim.patient.SkinThickness;
import org.seriatim.photograph.LightSet;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.View;
import org.seriatim.screening.Answer;
import org.seriatim.screening.ScreeningItem;
import org.seriatim.screening.Verdict;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.Target;

import static org.assertj.core.api.Assertions.assertThat;

/** A word of the records that had no text would reach a page as a message key. */
class WordsTests {

	static Stream<Arguments> vocabularies() {
		return Stream.of(Arguments.of("region", Region.values()), Arguments.of("scar-type", ScarType.values()),
				Arguments.of("scar-type", CountedType.values()), Arguments.of("scar-state", ScarStanding.values()),
				Arguments.of("depth-class", DepthClass.values()), Arguments.of("depth-method", DepthMethod.values()),
				Arguments.of("series-status", SeriesStatus.values()), Arguments.of("combination", Combination.values()),
				Arguments.of("target", Target.values()), Arguments.of("layer", Layer.values()),
				Arguments.of("finding-kind", FindingKind.values()), Arguments.of("channel", Channel.values()),
				Arguments.of("reporter", Reporter.values()), Arguments.of("noticed-by", NoticedBy.values()),
				Arguments.of("how-reported", HowReported.values()), Arguments.of("side", FindingSide.values()),
				Arguments.of("seriousness", SeriousnessCriterion.values()),
				Arguments.of("finding-course", FindingCourse.values()), Arguments.of("causality", Causality.values()),
				Arguments.of("causality-meaning", Causality.values()), Arguments.of("onset-class", OnsetClass.values()),
				Arguments.of("lump-form", LumpForm.values()), Arguments.of("finding-action", ActionClass.values()),
				Arguments.of("carried-out", CarriedOut.values()),
				Arguments.of("report-decision", ReportDecision.values()),
				Arguments.of("contact-outcome", ContactOutcome.values()),
				Arguments.of("appointment-purpose", AppointmentPurpose.values()),
				Arguments.of("appointment-status", AppointmentStatus.values()), Arguments.of("sex", Sex.values()),
				Arguments.of("skin-thickness", SkinThickness.values()), Arguments.of("sebum", Sebum.values()),
				Arguments.of("view", View.values()), Arguments.of("light-set", LightSet.values()),
				Arguments.of("photograph-purpose", Purpose.values()),
				Arguments.of("screening-level", ScreeningItem.Level.values()),
				Arguments.of("screening-asked", ScreeningItem.Asked.values()),
				Arguments.of("screening-answer", Answer.values()), Arguments.of("screening-verdict", Verdict.values()),
				Arguments.of("role", Role.values()));
	}

	@ParameterizedTest
	@MethodSource("vocabularies")
	void everyWordHasAText(String vocabulary, Enum<?>[] constants) {
		var texts = ResourceBundle.getBundle("messages/words");
		assertThat(Arrays.stream(constants).map((constant) -> constant.name().toLowerCase(Locale.ROOT)))
			.allSatisfy((word) -> assertThat(texts.getString(vocabulary + "." + word)).isNotBlank());
	}

}
