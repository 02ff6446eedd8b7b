package org.seriatim.access;

import java.util.Arrays;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import org.springframework.core.MethodParameter;
import org.springframework.validation.Errors;
import org.springframework.web.method.HandlerMethod;

/**
 * A form that comes back to whoever filled it in, because a sign-in ended before it was
 * sent. It travels like a sent one, marked so that it is shown, filled as it was, and
 * never acted on.
 */
public final class UnsentForm {

	/** The parameter that marks it. */
	public static final String MARK = "_unsent";

	private UnsentForm() {
	}

	/** Forms with files are not among them, and may be too large to be looked into. */
	public static boolean is(HttpServletRequest request) {
		String type = request.getContentType();
		return (type == null || !type.startsWith("multipart/")) && request.getParameter(MARK) != null;
	}

	/**
	 * Whether the handler shows a form again when it is refused: it checks the form and
	 * takes what is wrong with it.
	 */
	public static boolean isShownBy(HandlerMethod handler) {
		var parameters = handler.getMethodParameters();
		return Arrays.stream(parameters).anyMatch((parameter) -> parameter.hasParameterAnnotation(Valid.class))
				&& Arrays.stream(parameters)
					.map(MethodParameter::getParameterType)
					.anyMatch(Errors.class::isAssignableFrom);
	}

}
