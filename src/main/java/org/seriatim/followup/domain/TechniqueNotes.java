package org.seriatim.followup.domain;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.seriatim.assessment.Region;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.LumpLayer;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Remark;
import org.seriatim.followup.Sentence;
import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;

/**
 * What the record of the last session suggests for the next one. Nothing is suggested
 * that the record does not carry, no volume, and never a layer below the dermis.
 */
final class TechniqueNotes {

	/**
	 * Pain from which anaesthesia is reviewed, 0 to 10: moderate. Source: Gerbershagen,
	 * Rothaug, Kalkman, Meissner 2011, Br J Anaesth 107, 619-626, cut-off 4.
	 */
	private static final int PAINFUL = 4;

	private TechniqueNotes() {
	}

	static List<Remark> on(AdvisedCase advised) {
		var notes = new ArrayList<Remark>();
		notes.addAll(afterPersistentLumps(advised));
		notes.addAll(afterPain(advised));
		return notes;
	}

	/** One note for each layer whose injections left a lump that lasted. */
	private static List<Remark> afterPersistentLumps(AdvisedCase advised) {
		var byLayer = new EnumMap<Layer, List<LumpDuration>>(Layer.class);
		for (var lump : advised.persistentLumps()) {
			LumpLayer.of(lump.lump(), advised.session().injections())
				.ifPresent((layer) -> byLayer.computeIfAbsent(layer, (key) -> new ArrayList<>()).add(lump));
		}
		return byLayer.entrySet().stream().map((entry) -> afterLumpsIn(entry.getKey(), entry.getValue())).toList();
	}

	private static Remark afterLumpsIn(Layer used, List<LumpDuration> lumps) {
		var count = Argument.number(lumps.size());
		var sentence = switch (used) {
			case SUPERFICIAL_DERMIS -> deeper(count, used, Layer.MID_DERMIS);
			case MID_DERMIS -> deeper(count, used, Layer.DEEP_DERMIS);
			case DEEP_DERMIS -> Sentence.of("followup.technique.deepest", count, word(used));
			case BELOW_DERMIS -> Sentence.of("followup.technique.below-dermis", count, word(used));
		};
		return new Remark(sentence, Evidence.ofLumps(lumps));
	}

	private static Sentence deeper(Argument count, Layer used, Layer next) {
		return Sentence.of("followup.technique.deeper", count, word(used), word(next));
	}

	private static Argument word(Layer layer) {
		return Argument.word("layer", layer.word());
	}

	/** The most painful regions first; the whole session where no region has a record. */
	private static List<Remark> afterPain(AdvisedCase advised) {
		var session = advised.session();
		Map<Region, Integer> worst = new LinkedHashMap<>();
		session.injections()
			.stream()
			.filter((injection) -> injection.painNrs() != null)
			.forEach((injection) -> worst.merge(injection.region(), pain(injection), Math::max));
		if (worst.isEmpty()) {
			var pain = session.painNrs();
			return (pain == null || pain < PAINFUL) ? List.of()
					: List.of(new Remark(Sentence.of("followup.technique.painful-session", Argument.number(pain)),
							List.of(Evidence.of(session))));
		}
		return worst.entrySet()
			.stream()
			.filter((region) -> region.getValue() >= PAINFUL)
			.sorted(Map.Entry.<Region, Integer>comparingByValue().reversed().thenComparing(Map.Entry.comparingByKey()))
			.map((region) -> new Remark(
					Sentence.of("followup.technique.painful-region", Evidence.word(region.getKey()),
							Argument.number(region.getValue())),
					List.of(Evidence.of(session), Evidence.of(region.getKey()))))
			.toList();
	}

	private static int pain(InjectionFacts injection) {
		return Objects.requireNonNull(injection.painNrs());
	}

}
