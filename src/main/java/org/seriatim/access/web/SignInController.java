package org.seriatim.access.web;

import org.seriatim.access.DemoSignIns;
import org.seriatim.access.domain.SetupCode;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

@Controller
@ConditionalOnWebApplication
class SignInController {

	private final SetupCode setup;

	private final ObjectProvider<DemoSignIns> demo;

	SignInController(SetupCode setup, ObjectProvider<DemoSignIns> demo) {
		this.setup = setup;
		this.demo = demo;
	}

	@GetMapping("/sign-in")
	String signIn(Model model) {
		if (this.setup.isAwaited()) {
			return "redirect:/set-up";
		}
		model.addAttribute("demo", this.demo.stream().flatMap((sign) -> sign.list().stream()).toList());
		return "access/sign-in";
	}

}
