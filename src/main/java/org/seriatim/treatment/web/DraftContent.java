package org.seriatim.treatment.web;

import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** The form of a session as a draft keeps it. */
@Component
class DraftContent {

	private final JsonMapper json;

	DraftContent(JsonMapper json) {
		this.json = json;
	}

	String written(SessionForm form) {
		return this.json.writeValueAsString(form.withVersion(null));
	}

	SessionForm read(String content) {
		return this.json.readValue(content, SessionForm.class);
	}

}
