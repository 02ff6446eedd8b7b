package org.seriatim.support;

import java.io.UnsupportedEncodingException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.FormElement;
import org.springframework.test.web.servlet.assertj.MockMvcTester.MockMvcRequestBuilder;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

/**
 * A form as it stands on a person's screen: what it was filled with, what the person
 * types into it, and what the browser would send.
 */
public final class OpenForm {

	private final Map<String, String> content = new LinkedHashMap<>();

	private OpenForm() {
	}

	/** The form of a page's main part; the first one where there are several. */
	public static OpenForm on(MvcTestResult page) {
		var form = new OpenForm();
		var element = (FormElement) document(page).select("main form").first();
		if (element == null) {
			throw new AssertionError("no form on the page");
		}
		element.formData()
			.stream()
			.filter((entry) -> !entry.key().equals("_csrf"))
			.forEach((entry) -> form.content.put(entry.key(), entry.value()));
		// an empty value is a value, for which the parser says "on"
		element.select("input[type=radio][checked]")
			.forEach((radio) -> form.content.put(radio.attr("name"), radio.attr("value")));
		return form;
	}

	public static Document document(MvcTestResult page) {
		try {
			return Jsoup.parse(page.getResponse().getContentAsString(), "http://localhost/");
		}
		catch (UnsupportedEncodingException ex) {
			throw new IllegalStateException(ex);
		}
	}

	public OpenForm type(String field, String value) {
		this.content.put(field, value);
		return this;
	}

	public OpenForm leaveOut(String beginning) {
		this.content.keySet().removeIf((name) -> name.startsWith(beginning));
		return this;
	}

	public String value(String field) {
		return this.content.getOrDefault(field, "");
	}

	public List<String> fields() {
		return List.copyOf(this.content.keySet());
	}

	/** Fills a request with what the browser would send. */
	public MockMvcRequestBuilder into(MockMvcRequestBuilder request) {
		this.content.forEach(request::formField);
		return request;
	}

}
