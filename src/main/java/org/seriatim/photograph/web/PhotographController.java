package org.seriatim.photograph.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.ScarId;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.View;
import org.seriatim.photograph.domain.EntryRefused;
import org.seriatim.photograph.domain.KeepPhotographs;
import org.seriatim.photograph.domain.KeepPhotographs.Size;
import org.seriatim.photograph.domain.Photograph;
import org.seriatim.photograph.domain.PictureRefused;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.CacheControl;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Photographs are added, shown and corrected. */
@Controller
@ConditionalOnWebApplication
class PhotographController {

	private final KeepPhotographs photographs;

	private final PhotographPages pages;

	private final PatientDirectory patients;

	private final PhotographRefusals refusals;

	PhotographController(KeepPhotographs photographs, PhotographPages pages, PatientDirectory patients,
			PhotographRefusals refusals) {
		this.photographs = photographs;
		this.pages = pages;
		this.patients = patients;
		this.refusals = refusals;
	}

	@GetMapping("/patients/{patient}/photographs")
	ModelAndView list(@PathVariable PatientId patient, @RequestParam(required = false) @Nullable View view,
			@RequestParam(required = false) @Nullable ScarId scar) {
		return this.pages.list(patient, view, scar);
	}

	@GetMapping("/patients/{patient}/photographs/new")
	ModelAndView askForNew(@PathVariable PatientId patient, @RequestParam(required = false) @Nullable View view,
			@RequestParam(required = false) @Nullable ScarId scar) {
		this.patients.open(patient);
		var last = this.pages.latest(patient, null, null).orElse(null);
		return this.pages.form(patient, null, HttpStatus.OK)
			.addObject("form", PhotographForm.like(last, (scar != null) ? View.CLOSE : view, scar, null));
	}

	/** The latest photograph of the same view, to be had at hand. */
	@GetMapping("/patients/{patient}/photographs/earlier")
	ModelAndView earlier(@PathVariable PatientId patient, @RequestParam(required = false) @Nullable View view,
			@RequestParam(required = false) @Nullable ScarId scar) {
		this.patients.requireExisting(patient);
		return new ModelAndView("photograph/parts :: earlier", "line",
				(view != null) ? this.pages.latest(patient, view, scar).map(this.pages::line).orElse(null) : null);
	}

	@PostMapping("/patients/{patient}/photographs/new")
	ModelAndView add(@PathVariable PatientId patient, @Valid @ModelAttribute("form") PhotographForm form,
			BindingResult errors, @RequestParam(required = false) @Nullable List<MultipartFile> files,
			RedirectAttributes flash, Locale locale) {
		this.patients.requireExisting(patient);
		var sent = (files != null) ? files.stream().filter((file) -> !file.isEmpty() || named(file)).toList()
				: List.<MultipartFile>of();
		var refused = new ArrayList<RefusedFile>();
		int added = 0;
		if (!errors.hasErrors() && sent.isEmpty()) {
			errors.reject("photograph.files.missing");
		}
		try {
			for (var file : errors.hasErrors() ? List.<MultipartFile>of() : sent) {
				try {
					this.photographs.add(patient, form.toDetails(), file, file.getSize());
					added++;
				}
				catch (PictureRefused ex) {
					refused.add(new RefusedFile(String.valueOf(file.getOriginalFilename()),
							this.refusals.words(ex, locale)));
				}
			}
		}
		catch (EntryRefused ex) {
			this.refusals.show(ex, errors, locale);
		}
		if (errors.hasErrors() || !refused.isEmpty()) {
			return this.pages.form(patient, null, HttpStatus.UNPROCESSABLE_CONTENT)
				.addObject("refused", refused)
				.addObject("added", added);
		}
		flash.addFlashAttribute("notice", "photograph.added");
		return new ModelAndView("redirect:/patients/" + patient + "/photographs");
	}

	private static boolean named(MultipartFile file) {
		return file.getOriginalFilename() != null && !file.getOriginalFilename().isEmpty();
	}

	/**
	 * A file that was not kept.
	 *
	 * @param file what the sender's machine calls it; nothing of it is kept
	 */
	record RefusedFile(String file, String why) {
	}

	/**
	 * One file that the page's script sends by itself; answered with a line of the page.
	 */
	@PostMapping("/patients/{patient}/photographs")
	ModelAndView addOne(@PathVariable PatientId patient, @Valid @ModelAttribute("form") PhotographForm form,
			BindingResult errors, @RequestParam(required = false) @Nullable MultipartFile file, Locale locale) {
		this.patients.requireExisting(patient);
		if (errors.hasErrors()) {
			return refused(this.pages.say(errors.getAllErrors().get(0)));
		}
		if (file == null) {
			return refused(this.pages.say("photograph.files.missing"));
		}
		try {
			var id = this.photographs.add(patient, form.toDetails(), file, file.getSize());
			return new ModelAndView("photograph/parts :: added", "line", this.pages.line(existing(id)));
		}
		catch (PictureRefused ex) {
			return refused(this.refusals.words(ex, locale));
		}
		catch (EntryRefused ex) {
			return refused(this.refusals.words(ex, locale));
		}
	}

	private static ModelAndView refused(String why) {
		return new ModelAndView("photograph/parts :: refused", HttpStatus.UNPROCESSABLE_CONTENT).addObject("why", why);
	}

	@GetMapping("/photographs/{photograph}")
	ModelAndView show(@PathVariable PhotographId photograph) {
		return this.pages.show(visible(photograph));
	}

	@GetMapping("/photographs/{photograph}/picture")
	ResponseEntity<byte[]> picture(@PathVariable PhotographId photograph) {
		return picture(photograph, Size.WHOLE);
	}

	@GetMapping("/photographs/{photograph}/small")
	ResponseEntity<byte[]> small(@PathVariable PhotographId photograph) {
		return picture(photograph, Size.SMALL);
	}

	private ResponseEntity<byte[]> picture(PhotographId id, Size size) {
		try {
			// each look is in the audit log, so no look comes from the browser's own
			// store
			return ResponseEntity.ok()
				.contentType(MediaType.IMAGE_JPEG)
				.cacheControl(CacheControl.noStore())
				.body(this.photographs.open(visible(id), size).orElseThrow(PhotographController::gone));
		}
		catch (EntryRefused ex) {
			throw new ResponseStatusException(HttpStatus.FORBIDDEN, null, ex);
		}
	}

	/** A copy to be used for a purpose; its name tells nothing of the patient. */
	@PostMapping("/photographs/{photograph}/copy")
	ResponseEntity<byte[]> copy(@PathVariable PhotographId photograph, @RequestParam Purpose purpose) {
		try {
			var name = ContentDisposition.attachment().filename("photograph-" + purpose.word() + ".jpg").build();
			return ResponseEntity.ok()
				.contentType(MediaType.IMAGE_JPEG)
				.cacheControl(CacheControl.noStore())
				.header(HttpHeaders.CONTENT_DISPOSITION, name.toString())
				.body(this.photographs.copy(visible(photograph), purpose).orElseThrow(PhotographController::gone));
		}
		catch (EntryRefused ex) {
			throw new ResponseStatusException(HttpStatus.FORBIDDEN, null, ex);
		}
	}

	@GetMapping("/photographs/{photograph}/edit")
	ModelAndView askForCorrection(@PathVariable PhotographId photograph) {
		var known = visible(photograph);
		this.patients.open(known.patient());
		return this.pages.form(known.patient(), known, HttpStatus.OK).addObject("form", PhotographForm.from(known));
	}

	@PostMapping("/photographs/{photograph}/edit")
	ModelAndView correct(@PathVariable PhotographId photograph, @Valid @ModelAttribute("form") PhotographForm form,
			BindingResult errors, RedirectAttributes flash, Locale locale) {
		var known = visible(photograph);
		if (form.takenOn() == null && !errors.hasFieldErrors("takenOn")) {
			errors.rejectValue("takenOn", "photograph.taken-on.missing");
		}
		if (form.reason() == null) {
			errors.rejectValue("reason", "photograph.reason.missing");
		}
		if (!errors.hasErrors()) {
			try {
				this.photographs.correct(photograph, form.version(), form.toDetails(),
						Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", "photograph.corrected");
				return new ModelAndView("redirect:/photographs/" + photograph);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return this.pages.form(known.patient(), known, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/photographs/{photograph}/set-aside")
	ModelAndView askForReason(@PathVariable PhotographId photograph) {
		var known = existing(photograph);
		return setAside(known, HttpStatus.OK).addObject("form", ReasonForm.of(known));
	}

	/** Takes it out of sight, or brings it back if it was. */
	@PostMapping("/photographs/{photograph}/set-aside")
	ModelAndView setAside(@PathVariable PhotographId photograph, @RequestParam(defaultValue = "true") boolean aside,
			@Valid @ModelAttribute("form") ReasonForm form, BindingResult errors, RedirectAttributes flash,
			Locale locale) {
		var known = existing(photograph);
		if (!errors.hasErrors()) {
			try {
				this.photographs.setAside(photograph, form.version(), aside, Objects.requireNonNull(form.reason()));
				flash.addFlashAttribute("notice", aside ? "photograph.set-aside.done" : "photograph.brought-back");
				return new ModelAndView("redirect:/photographs/" + photograph);
			}
			catch (EntryRefused ex) {
				this.refusals.show(ex, errors, locale);
			}
		}
		return setAside(known, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private ModelAndView setAside(Photograph known, HttpStatus status) {
		return new ModelAndView("photograph/set-aside", status)
			.addObject("patient", this.patients.requireExisting(known.patient()))
			.addObject("photograph", known)
			.addObject("line", this.pages.line(known));
	}

	private Photograph existing(PhotographId id) {
		return this.photographs.byId(id).orElseThrow(PhotographController::gone);
	}

	/** What was set aside may be of somebody else: only who can bring it back sees it. */
	private Photograph visible(PhotographId id) {
		var photograph = existing(id);
		if (photograph.isSetAside() && !this.pages.mayDecide()) {
			throw gone();
		}
		return photograph;
	}

	private static ResponseStatusException gone() {
		return new ResponseStatusException(HttpStatus.NOT_FOUND);
	}

}
