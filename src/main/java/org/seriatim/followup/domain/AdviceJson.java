package org.seriatim.followup.domain;

import com.fasterxml.jackson.annotation.JsonAutoDetect.Visibility;
import com.fasterxml.jackson.annotation.PropertyAccessor;
import tools.jackson.databind.json.JsonMapper;

/**
 * The stored form of facts, snapshots and advice: the components of the records, nothing
 * that is derived from them, so that what is read back equals what was written.
 */
final class AdviceJson {

	private static final JsonMapper JSON = JsonMapper.builder()
		.changeDefaultVisibility((checker) -> checker.withVisibility(PropertyAccessor.GETTER, Visibility.NONE)
			.withVisibility(PropertyAccessor.IS_GETTER, Visibility.NONE)
			.withVisibility(PropertyAccessor.FIELD, Visibility.ANY))
		.build();

	private AdviceJson() {
	}

	static String write(Object value) {
		return JSON.writeValueAsString(value);
	}

	static <T> T read(String json, Class<T> type) {
		return JSON.readValue(json, type);
	}

}
