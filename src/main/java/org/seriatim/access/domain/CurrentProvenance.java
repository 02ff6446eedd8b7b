package org.seriatim.access.domain;

import org.springframework.beans.factory.ObjectProvider;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;

/**
 * From where and by which way in something is done now: by the request; by the one that
 * the person began who is behind a longer work; by a command; or by the service itself.
 */
@Component
class CurrentProvenance {

	private final ObjectProvider<ProvenanceOfRequest> request;

	private final CommandSettings command;

	CurrentProvenance(ObjectProvider<ProvenanceOfRequest> request, CommandSettings command) {
		this.request = request;
		this.command = command;
	}

	Provenance get() {
		return this.request.stream().flatMap((request) -> request.now().stream()).findFirst().orElseGet(() -> {
			var person = SecurityContextHolder.getContext().getAuthentication();
			if (person != null && person.getDetails() instanceof Provenance begun) {
				return begun;
			}
			return this.command.command() ? Provenance.command(this.command.words()) : Provenance.service();
		});
	}

}
