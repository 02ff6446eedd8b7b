package org.seriatim.outcome.domain;

import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;

import org.jspecify.annotations.Nullable;
import org.seriatim.finding.ClinicLump;

/**
 * By what lumps are told apart; what is not on record, or not unique, is the group
 * {@value #UNKNOWN}.
 */
public enum LumpGrouping {

	NONE((lump) -> "all"), REGION((lump) -> (lump.region() != null) ? lump.region().word() : null),
	LAYER((lump) -> (lump.layer() != null) ? lump.layer().word() : null),
	COMBINATION((lump) -> (lump.combination() != null) ? lump.combination().word() : null),
	PRACTITIONER(ClinicLump::practitioner), PRODUCT(ClinicLump::product);

	public static final String UNKNOWN = "unknown";

	private final Function<ClinicLump, @Nullable String> value;

	LumpGrouping(Function<ClinicLump, @Nullable String> value) {
		this.value = value;
	}

	String groupOf(ClinicLump lump) {
		return Optional.ofNullable(this.value.apply(lump)).orElse(UNKNOWN);
	}

	/** The word in addresses and files. */
	public String word() {
		return name().toLowerCase(Locale.ROOT);
	}

	/**
	 * Whether a group's value is a word of the records that the pages translate, rather
	 * than a name.
	 */
	public boolean isWorded() {
		return this == REGION || this == LAYER || this == COMBINATION || this == NONE;
	}

}
