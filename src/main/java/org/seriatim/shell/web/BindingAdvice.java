package org.seriatim.shell.web;

import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;

/** What holds in every form: blank text means that nothing was said. */
@ControllerAdvice
class BindingAdvice {

	/** More lines than anybody fills in; further ones would be dropped without a word. */
	static final int MOST_LINES = 1000;

	@InitBinder
	void readForms(WebDataBinder binder) {
		binder.setAutoGrowCollectionLimit(MOST_LINES);
		// a form is its record: nothing is set beside what its constructor takes
		binder.setDeclarativeBinding(true);
		binder.registerCustomEditor(String.class, new StringTrimmerEditor(true));
	}

}
