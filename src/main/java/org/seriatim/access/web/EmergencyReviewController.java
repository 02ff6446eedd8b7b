package org.seriatim.access.web;

import java.util.List;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.PatientIndex;
import org.seriatim.access.domain.EmergencyAccesses;
import org.seriatim.access.domain.EmergencyAccesses.Use;
import org.seriatim.access.domain.SignedIn;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.security.core.annotation.AuthenticationPrincipal;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Setup: every use of emergency access, for a clinic lead to review. */
@Controller
@ConditionalOnWebApplication
class EmergencyReviewController {

	private static final String PAGE = "/setup/emergency-access";

	private final EmergencyAccesses emergencies;

	private final ObjectProvider<PatientIndex> patients;

	private final SignInTable times;

	EmergencyReviewController(EmergencyAccesses emergencies, ObjectProvider<PatientIndex> patients, SignInTable times) {
		this.emergencies = emergencies;
		this.patients = patients;
		this.times = times;
	}

	/**
	 * A use as the page shows it.
	 *
	 * @param own whether whoever looks is who used it
	 */
	record UseRow(UUID id, String by, String recordNumber, UUID patient, String reason, String begun, String until,
			List<OpeningRow> opened, boolean own, @Nullable ReviewRow review) {
	}

	record OpeningRow(String at, String address) {
	}

	record ReviewRow(String at, String by, boolean justified, @Nullable String note) {
	}

	@GetMapping(PAGE)
	ModelAndView list(@AuthenticationPrincipal SignedIn person) {
		return page(new ModelAndView("access/emergency-review", "form", new ReviewForm(null, null)), person, null);
	}

	@PostMapping(PAGE + "/{access}/review")
	ModelAndView review(@AuthenticationPrincipal SignedIn person, @PathVariable UUID access,
			@Valid @ModelAttribute("form") ReviewForm form, BindingResult errors, RedirectAttributes flash) {
		if (form.lacksNote()) {
			errors.rejectValue("note", "access.emergency.note.missing");
		}
		if (!errors.hasErrors()) {
			switch (this.emergencies.review(access, person.staff(), Boolean.TRUE.equals(form.justified()),
					form.note())) {
				case REVIEWED -> flash.addFlashAttribute("notice", "access.emergency.reviewed");
				case ALREADY -> flash.addFlashAttribute("notice", "access.emergency.reviewed-already");
				case OWN -> errors.reject("access.emergency.own");
				case UNKNOWN -> throw new ResponseStatusException(HttpStatus.NOT_FOUND);
			}
		}
		if (errors.hasErrors()) {
			return page(
					new ModelAndView("access/emergency-review", errors.getModel(), HttpStatus.UNPROCESSABLE_CONTENT),
					person, access);
		}
		return new ModelAndView("redirect:" + PAGE);
	}

	private ModelAndView page(ModelAndView page, SignedIn person, @Nullable UUID refused) {
		var uses = this.emergencies.all().stream().map((use) -> row(use, person)).toList();
		return page.addObject("waiting", uses.stream().filter((use) -> use.review() == null).toList())
			.addObject("reviewed", uses.stream().filter((use) -> use.review() != null).toList())
			.addObject("refused", refused);
	}

	private UseRow row(Use use, SignedIn person) {
		return new UseRow(use.id(), use.name(),
				this.patients.stream()
					.flatMap((index) -> index.recordNumberOf(use.patient()).stream())
					.findFirst()
					.orElse(""),
				use.patient(), use.reason(), this.times.written(use.begunAt()), this.times.written(use.endedAt()),
				use.opened()
					.stream()
					.map((opening) -> new OpeningRow(this.times.written(opening.at()), opening.address()))
					.toList(),
				use.by().equals(person.staff()),
				(use.review() != null) ? new ReviewRow(this.times.written(use.review().at()), use.review().name(),
						use.review().justified(), use.review().note()) : null);
	}

}
