package org.seriatim.followup.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;

import org.seriatim.assessment.Region;
import org.seriatim.followup.Argument;
import org.seriatim.followup.Evidence;
import org.seriatim.followup.Remark;
import org.seriatim.followup.Sentence;
import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;

/**
 * What stands beside an advice whatever its window. They defer to the clinic's own
 * protocols, local regulation and emergency services.
 */
final class Cautions {

	/**
	 * Sessions of a series stand at least four weeks apart (consensus on a related
	 * product: Vleggaar et al. 2014, J Drugs Dermatol 13(4 Suppl), s44).
	 */
	private static final int FOUR_WEEKS = 28;

	private Cautions() {
	}

	static List<Remark> on(AdvisedCase advised) {
		var cautions = new ArrayList<Remark>();
		earlierLumps(advised).ifPresent(cautions::add);
		treatedRegions(advised, "followup.caution.vessels", Region::hasVessels).ifPresent(cautions::add);
		treatedRegions(advised, "followup.caution.thin-skin", Region::hasThinSkin).ifPresent(cautions::add);
		belowTheDermis(advised).ifPresent(cautions::add);
		shortInterval(advised).ifPresent(cautions::add);
		return cautions;
	}

	private static Optional<Remark> earlierLumps(AdvisedCase advised) {
		var neverSeenAbsent = advised.earlierLumps().stream().filter((lump) -> !lump.isSeenGone()).toList();
		return neverSeenAbsent.isEmpty() ? Optional.empty()
				: Optional.of(new Remark(
						Sentence.of("followup.caution.earlier-lumps", Argument.number(neverSeenAbsent.size())),
						Evidence.ofLumps(neverSeenAbsent)));
	}

	private static Optional<Remark> treatedRegions(AdvisedCase advised, String key, Predicate<Region> concerned) {
		return remark(key, advised,
				advised.session().injections().stream().map(InjectionFacts::region).filter(concerned).toList());
	}

	private static Optional<Remark> belowTheDermis(AdvisedCase advised) {
		return remark("followup.caution.below-dermis", advised,
				advised.session()
					.injections()
					.stream()
					.filter((injection) -> injection.layer() == Layer.BELOW_DERMIS)
					.map(InjectionFacts::region)
					.toList());
	}

	private static Optional<Remark> remark(String key, AdvisedCase advised, List<Region> regions) {
		return regions.isEmpty() ? Optional.empty()
				: Optional.of(new Remark(Sentence.of(key, Argument.number(advised.session().number())),
						regions.stream().distinct().sorted().map(Evidence::of).toList()));
	}

	private static Optional<Remark> shortInterval(AdvisedCase advised) {
		var days = Math.min(advised.protocol().baseDays(), advised.protocol().baseDays() + advised.skinShift());
		return (days >= FOUR_WEEKS) ? Optional.empty() : Optional
			.of(new Remark(Sentence.of("followup.caution.short-interval", Argument.number(days)), List.of()));
	}

}
