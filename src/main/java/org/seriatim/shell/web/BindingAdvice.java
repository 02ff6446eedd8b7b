package org.seriatim.shell.web;

import jakarta.servlet.http.HttpServletRequest;
import org.seriatim.access.UnsentForm;
import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.validation.Errors;
import org.springframework.validation.Validator;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/** What holds in every form: blank text means that nothing was said. */
@ControllerAdvice
class BindingAdvice {

	/** More lines than anybody fills in; further ones would be dropped without a word. */
	static final int MOST_LINES = 1000;

	@InitBinder
	void readForms(WebDataBinder binder, HttpServletRequest request) {
		if (UnsentForm.is(request)) {
			binder.addValidators(new Unsent());
		}
		binder.setAutoGrowCollectionLimit(MOST_LINES);
		// a form is its record: nothing is set beside what its constructor takes
		binder.setDeclarativeBinding(true);
		binder.registerCustomEditor(String.class, new StringTrimmerEditor(true));
	}

	/*
	 * What was put together from two versions goes back to the person before it is saved,
	 * the same way as a form with something to be mended.
	 */
	@InitBinder("form")
	void lookFirst(WebDataBinder binder, HttpServletRequest request) {
		if (request.getParameter(VersionsInForms.LOOK_FIRST) != null) {
			binder.addValidators(new LookFirst());
		}
	}

	private static final class LookFirst implements Validator {

		@Override
		public boolean supports(Class<?> type) {
			return true;
		}

		@Override
		public void validate(Object form, Errors errors) {
			errors.reject(PageInterceptor.LOOK_FIRST);
		}

	}

	/** Refuses a form that nobody has sent yet, so that its page shows it again. */
	private static final class Unsent implements Validator {

		@Override
		public boolean supports(Class<?> type) {
			return true;
		}

		@Override
		public void validate(Object form, Errors errors) {
			errors.reject("shell.form.unsent");
		}

	}

}
