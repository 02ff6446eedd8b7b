package org.seriatim.shell.web;

import jakarta.servlet.http.HttpServletRequest;

import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.servlet.support.RequestContextUtils;

/** The first page is the first one that the navigation offers to whom is signed in. */
@Controller
class HomeController {

	private final Navigation navigation;

	HomeController(Navigation navigation) {
		this.navigation = navigation;
	}

	@GetMapping("/")
	String home(HttpServletRequest request, RedirectAttributes flash) {
		var brought = RequestContextUtils.getInputFlashMap(request);
		if (brought != null) {
			// what the page before had to say is said on the page that follows
			brought.forEach(flash::addFlashAttribute);
		}
		var sections = this.navigation.menu().sections();
		return "redirect:" + (sections.isEmpty() ? "/account" : sections.get(0).path());
	}

}
