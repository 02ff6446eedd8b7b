package org.seriatim.bundle;

import java.util.Collection;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * One patient's part of the bundle: of every file the rows that are the patient's, by
 * their own record number or by that of the row they refer to.
 */
public final class PatientPart {

	/** The parameter of the queries. */
	public static final String PARAMETER = "record_number";

	private final Map<String, BundleSection> sections;

	public PatientPart(Collection<BundleSection> sections) {
		this.sections = sections.stream()
			.collect(Collectors.toMap((section) -> section.file().name(), Function.identity()));
	}

	/**
	 * A query for the patient's rows of a file, as {@link BundleSection#recorded()} for
	 * all.
	 */
	public String recorded(BundleSection section) {
		var file = section.file();
		if (file.columnNames().contains(PARAMETER)) {
			return "select * from (%s) every where record_number = :record_number".formatted(section.recorded());
		}
		var reference = file.references()
			.stream()
			.findFirst()
			.orElseThrow(() -> new IllegalStateException("whose the rows of " + file + " are"));
		var named = this.sections.get(reference.file());
		return "select * from (%s) every where (%s) in (select %s from (%s) named)".formatted(section.recorded(),
				String.join(", ", reference.columns()), String.join(", ", named.file().key()), recorded(named));
	}

}
