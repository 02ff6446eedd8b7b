package org.seriatim.shell;

import java.util.Map;
import java.util.Optional;

/**
 * Under which message key pages show a word that a column of the records holds, so that
 * every page that shows stored values shows the same text for them.
 */
public final class ColumnWords {

	private static final Map<String, String> VOCABULARY = Map.ofEntries(Map.entry("region", "region"),
			Map.entry("depth_method", "depth-method"), Map.entry("depth_class", "depth-class"),
			Map.entry("response", "response"), Map.entry("sex", "sex"), Map.entry("phototype", "phototype"),
			Map.entry("skin_thickness", "skin-thickness"), Map.entry("sebum", "sebum"),
			Map.entry("combination", "combination"), Map.entry("target", "target"), Map.entry("layer", "layer"),
			Map.entry("kind", "finding-kind"), Map.entry("grade_scale", "grade-scale"), Map.entry("channel", "channel"),
			Map.entry("reporter", "reporter"), Map.entry("outcome", "contact-outcome"),
			Map.entry("appointment.purpose", "appointment-purpose"),
			Map.entry("appointments.purpose", "appointment-purpose"),
			Map.entry("photograph_consent.purpose", "photograph-purpose"),
			Map.entry("photograph_consents.purpose", "photograph-purpose"), Map.entry("view", "view"),
			Map.entry("answer", "screening-answer"), Map.entry("about", "screening-answer"),
			Map.entry("verdict", "screening-verdict"), Map.entry("light_set", "light-set"),
			Map.entry("type", "scar-type"), Map.entry("signs", "red-flag-sign"), Map.entry("scale", "scale"),
			Map.entry("side", "side"), Map.entry("scar_state.state", "scar-state"),
			Map.entry("scar_states.state", "scar-state"), Map.entry("noticed_by", "noticed-by"),
			Map.entry("how_reported", "how-reported"), Map.entry("visibility", "finding-visibility"),
			Map.entry("course", "finding-course"), Map.entry("causality", "causality"),
			Map.entry("finding_action.action", "finding-action"), Map.entry("finding_actions.action", "finding-action"),
			Map.entry("carried_out", "carried-out"), Map.entry("finding_report.decision", "report-decision"),
			Map.entry("finding_reports.decision", "report-decision"), Map.entry("series.status", "series-status"),
			Map.entry("exceptions", "appointment.exception"), Map.entry("appointment.status", "appointment-status"),
			Map.entry("appointments.status", "appointment-status"), Map.entry("advice.status", "followup.status"));

	private ColumnWords() {
	}

	/**
	 * The message key of a stored word.
	 * @param kind the table or file, where columns of one name hold different words
	 * @return empty for a column that holds no words
	 */
	public static Optional<String> key(String kind, String column, String word) {
		return Optional.ofNullable(VOCABULARY.get(column))
			.or(() -> Optional.ofNullable(VOCABULARY.get(kind + "." + column)))
			.map((vocabulary) -> vocabulary + "." + word);
	}

}
