package org.seriatim.exchange.domain;

import java.util.Comparator;
import java.util.List;

import org.seriatim.bundle.BundleFormat;
import org.seriatim.bundle.BundleSection;

import org.springframework.stereotype.Component;

/** The sections of all owners, in the order of the format. */
@Component
class BundleSections {

	private final List<BundleSection> ordered;

	BundleSections(List<BundleSection> sections) {
		this.ordered = sections.stream()
			.sorted(Comparator.comparing((section) -> BundleFormat.FILES.indexOf(section.file().name())))
			.toList();
		List<String> files = this.ordered.stream().map((section) -> section.file().name()).toList();
		if (!files.equals(BundleFormat.FILES)) {
			throw new IllegalStateException("sections for " + files + " instead of " + BundleFormat.FILES);
		}
	}

	List<BundleSection> inOrder() {
		return this.ordered;
	}

}
