package org.seriatim.record.web;

import java.util.List;
import java.util.Optional;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarType;
import org.seriatim.outcome.ExpectedGain;
import org.seriatim.outcome.ExpectedGains;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.shell.Written;

/**
 * What the next session of a series has brought to scars of the patient's types in the
 * whole clinic.
 *
 * @param lines one for each type
 * @param asOf what it was computed from, or that it was not computed yet
 * @param href the clinic's figures, for who may open them
 */
record GainCard(String lead, List<Line> lines, String asOf, @Nullable String href) {

	private static final String FIGURES = "/outcomes/improvement";

	/**
	 * @param change in words; where the records do not carry it, that they do not
	 * @param basis the counts that it rests on; none where there are none
	 */
	record Line(String scarType, String change, @Nullable String basis) {
	}

	static Optional<GainCard> of(SeriesRecord record, ExpectedGains gains, Doors doors, Texts texts) {
		var types = record.scars()
			.stream()
			.map((entry) -> entry.scar().type())
			.filter(ScarType::hasDepthStatistics)
			.distinct()
			.sorted()
			.toList();
		if (!record.series().isOpen() || types.isEmpty()) {
			return Optional.empty();
		}
		int next = record.sessions().size() + 1;
		var lead = texts.say("record.gain.lead", next);
		var figures = doors.ifOpen(FIGURES);
		return Optional.of(gains.latest()
			.map((kept) -> new GainCard(lead,
					types.stream().map((type) -> line(type, kept.of(type, next).orElse(null), texts)).toList(),
					texts.say("record.gain.as-of", kept.snapshot(), Written.day(kept.asOf())),
					(figures != null) ? figures + "#gain" : null))
			.orElseGet(() -> new GainCard(lead, List.of(), texts.say("record.gain.none"), null)));
	}

	private static Line line(ScarType type, @Nullable ExpectedGain gain, Texts texts) {
		var name = texts.word("scar-type", type);
		if (gain == null || gain.scars() + gain.resolved() == 0) {
			return new Line(name, texts.say("record.gain.nobody"), null);
		}
		var basis = texts.say("record.gain.basis", gain.scars(), gain.patients());
		if (gain.resolved() > 0) {
			basis = texts.say("record.gain.basis.resolved", basis, gain.resolved());
		}
		var change = gain.change();
		return new Line(name,
				(change != null)
						? texts.say("record.gain.line", Written.number(change.percent(), 1),
								Written.number(change.low(), 1), Written.number(change.high(), 1))
						: texts.say("record.gain.too-few"),
				basis);
	}

}
