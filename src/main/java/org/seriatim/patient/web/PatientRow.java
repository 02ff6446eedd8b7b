package org.seriatim.patient.web;

import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.domain.FoundPatient;
import org.seriatim.shell.Written;

/** A patient in a list, as it is read. */
record PatientRow(PatientId id, String recordNumber, @Nullable String name, @Nullable String born,
		@Nullable String phone) {

	static List<PatientRow> of(List<FoundPatient> found) {
		return found.stream().map(PatientRow::of).toList();
	}

	private static PatientRow of(FoundPatient found) {
		var name = Stream.of(found.familyName(), found.givenName())
			.filter(Objects::nonNull)
			.collect(Collectors.joining(", "));
		return new PatientRow(found.id(), found.recordNumber(), name.isEmpty() ? null : name,
				(found.birthDate() != null) ? Written.day(found.birthDate()) : null, found.phone());
	}

}
