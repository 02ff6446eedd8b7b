package org.seriatim.shell.web;

import java.util.Map;

import jakarta.servlet.http.HttpServletRequest;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.web.error.ErrorAttributeOptions;
import org.springframework.boot.webmvc.error.DefaultErrorAttributes;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.ServletWebRequest;
import org.springframework.web.context.request.WebRequest;

/**
 * What an error page knows: the status and a reference number that is also in the log,
 * and never what an exception says, which may quote a record.
 */
@Component
class PageErrorAttributes extends DefaultErrorAttributes {

	private static final Logger log = LoggerFactory.getLogger(PageErrorAttributes.class);

	@Override
	public Map<String, Object> getErrorAttributes(WebRequest request, ErrorAttributeOptions options) {
		var attributes = super.getErrorAttributes(request, ErrorAttributeOptions.defaults());
		attributes.remove("message");
		if (request instanceof ServletWebRequest web) {
			attributes.put("reference", logged(web.getRequest(), attributes.get("status"), getError(request)));
		}
		return attributes;
	}

	private static String logged(HttpServletRequest request, Object status, Throwable error) {
		var reference = Reference.of(request);
		if (status instanceof Integer code && code >= 500) {
			log.error("Reference {}: {} answered {}", reference, request.getMethod(), code,
					(error != null) ? FaultWithoutMessage.of(error) : null);
		}
		else {
			log.info("Reference {}: {} answered {}", reference, request.getMethod(), status);
		}
		return reference;
	}

}
