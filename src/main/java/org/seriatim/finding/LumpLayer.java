package org.seriatim.finding;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;

/**
 * The layer that a lump belongs to.
 */
public final class LumpLayer {

	private LumpLayer() {
	}

	/**
	 * The injections of its session that a lump belongs to: those into the same scar or,
	 * for a lump without a scar, those into the same region without a scar.
	 */
	public static List<InjectionFacts> injectionsOf(FindingFacts lump, List<InjectionFacts> ofItsSession) {
		return ofItsSession.stream()
			.filter((injection) -> (lump.scar() != null) ? lump.scar().equals(injection.scar())
					: injection.scar() == null && injection.region() == lump.region())
			.toList();
	}

	/**
	 * The one layer of these injections; empty (unknown) when there is none, or they
	 * differ.
	 */
	public static Optional<Layer> of(FindingFacts lump, List<InjectionFacts> ofItsSession) {
		var injections = injectionsOf(lump, ofItsSession);
		var layers = injections.stream().map(InjectionFacts::layer).distinct().toList();
		return (layers.size() == 1) ? layers.stream().filter(Objects::nonNull).findFirst() : Optional.empty();
	}

}
