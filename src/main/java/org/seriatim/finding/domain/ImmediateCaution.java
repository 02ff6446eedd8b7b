package org.seriatim.finding.domain;

import java.util.Collection;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.RedFlagSign;

/** When the caution of a possible emergency opens. */
public final class ImmediateCaution {

	private ImmediateCaution() {
	}

	/** Any single sign is enough, whatever the kind; so is a kind that may be one. */
	public static boolean isNeeded(@Nullable FindingKind kind, @Nullable Collection<RedFlagSign> signs) {
		return (kind != null && kind.isRedFlag()) || (signs != null && !signs.isEmpty());
	}

}
