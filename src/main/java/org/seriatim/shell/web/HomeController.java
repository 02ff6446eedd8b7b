package org.seriatim.shell.web;

import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;

/** The first page is the first one that the navigation offers to whom is signed in. */
@Controller
class HomeController {

	private final Navigation navigation;

	HomeController(Navigation navigation) {
		this.navigation = navigation;
	}

	@GetMapping("/")
	String home() {
		var sections = this.navigation.menu().sections();
		return "redirect:" + (sections.isEmpty() ? "/password" : sections.get(0).path());
	}

}
