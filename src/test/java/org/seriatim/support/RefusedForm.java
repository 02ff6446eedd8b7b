package org.seriatim.support;

import java.io.UnsupportedEncodingException;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Pattern;

import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.web.util.HtmlUtils;

/** What a refused form says, field by field. */
public final class RefusedForm {

	private static final Pattern FIELD = Pattern
		.compile("(?s)<p[^>]*\\bid=\"([^\"]+)-error\"[^>]*>.*?<span>(.*?)</span>");

	private RefusedForm() {
	}

	/** The message beside each field, by the field's id: {@code injections0.region}. */
	public static Map<String, String> messages(MvcTestResult result) {
		var messages = new LinkedHashMap<String, String>();
		var field = FIELD.matcher(body(result));
		while (field.find()) {
			messages.put(field.group(1), HtmlUtils.htmlUnescape(field.group(2)));
		}
		return messages;
	}

	private static String body(MvcTestResult result) {
		try {
			return result.getResponse().getContentAsString();
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

}
