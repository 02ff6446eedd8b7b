package org.seriatim.access.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Component;

/** Where somebody goes on after having shown who they are. */
@Component
@ConditionalOnWebApplication
class Resume {

	private final KeptForms kept;

	Resume(KeptForms kept) {
		this.kept = kept;
	}

	/**
	 * A redirect to the form that waits, to the page that was asked for, or to the first
	 * page.
	 */
	String after(SignedIn person, HttpServletRequest request, HttpServletResponse response) {
		if (this.kept.of(person.account(), request).isPresent()) {
			return "redirect:/kept-form";
		}
		var page = this.kept.getRequest(request, response);
		return "redirect:" + ((page != null) ? page.getRedirectUrl() : "/");
	}

}
