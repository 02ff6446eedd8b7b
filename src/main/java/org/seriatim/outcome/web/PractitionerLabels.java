package org.seriatim.outcome.web;

import java.util.Map;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;

import org.seriatim.access.CurrentStaff;
import org.seriatim.outcome.domain.Practitioners;
import org.springframework.stereotype.Component;

/** How the groups of a page by practitioner are called. */
@Component
class PractitionerLabels {

	private final Practitioners practitioners;

	private final CurrentStaff staff;

	private final OutcomeWords words;

	PractitionerLabels(Practitioners practitioners, CurrentStaff staff, OutcomeWords words) {
		this.practitioners = practitioners;
		this.staff = staff;
		this.words = words;
	}

	/**
	 * Labels of a page by id: codes, or names where these are open; one's own is marked.
	 */
	Function<String, String> ofPage() {
		var own = this.staff.id().map(Object::toString).orElse("");
		var labels = labels(this.practitioners.areNamed());
		return (id) -> {
			var label = labels.getOrDefault(id, id);
			return id.equals(own) ? this.words.text("outcome.practitioner.own", label) : label;
		};
	}

	/** Labels of a file by id; an opening of names by the role alone is put on record. */
	Function<String, String> ofFile() {
		var labels = labels(this.practitioners.areNamedInFile());
		return (id) -> labels.getOrDefault(id, id);
	}

	/** Labels of a page by the name in the records. */
	UnaryOperator<String> ofPageByName() {
		return byName(this.practitioners.areNamed());
	}

	/** Labels of a file by the name in the records; as {@link #ofFile}. */
	UnaryOperator<String> ofFileByName() {
		return byName(this.practitioners.areNamedInFile());
	}

	private UnaryOperator<String> byName(boolean named) {
		if (named) {
			return (name) -> name;
		}
		var codes = this.practitioners.all()
			.stream()
			.collect(Collectors.toMap(Practitioners.Practitioner::name, Practitioners.Practitioner::code));
		return (name) -> codes.getOrDefault(name, this.words.text("outcome.group.unknown"));
	}

	private Map<String, String> labels(boolean named) {
		return this.practitioners.all()
			.stream()
			.collect(Collectors.toMap((practitioner) -> practitioner.id().toString(),
					(practitioner) -> named ? practitioner.name() : practitioner.code()));
	}

}
