package org.seriatim.photograph.web;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.PhotographId;
import org.seriatim.photograph.Purpose;
import org.seriatim.photograph.domain.Alignment;
import org.seriatim.photograph.domain.Comparability;
import org.seriatim.photograph.domain.Comparability.Difference;
import org.seriatim.photograph.domain.KeepConsent;
import org.seriatim.photograph.domain.KeepPhotographs;
import org.seriatim.photograph.domain.Photograph;
import org.seriatim.shell.Choice;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Two photographs beside each other or one upon the other. */
@Controller
@ConditionalOnWebApplication
class ComparisonController {

	private final KeepPhotographs photographs;

	private final KeepConsent consent;

	private final PhotographPages pages;

	private final PatientDirectory patients;

	ComparisonController(KeepPhotographs photographs, KeepConsent consent, PhotographPages pages,
			PatientDirectory patients) {
		this.photographs = photographs;
		this.consent = consent;
		this.pages = pages;
		this.patients = patients;
	}

	/** How two are shown. */
	enum Showing {

		BESIDE, UPON, LANDMARKS;

		String word() {
			return name().toLowerCase(Locale.ROOT);
		}

	}

	/**
	 * One of the two as it is drawn.
	 *
	 * @param transform lays it upon the other; none if it stays as it is
	 */
	record Drawn(PhotographPages.Line line, int width, int height, @Nullable String transform) {
	}

	/**
	 * What differs between the two.
	 *
	 * @param prevents whether it forbids any conclusion
	 */
	record Warning(String text, boolean prevents) {
	}

	@GetMapping("/patients/{patient}/photographs/compare")
	ModelAndView compare(@PathVariable PatientId patient,
			@RequestParam(required = false) @Nullable PhotographId earlier,
			@RequestParam(required = false) @Nullable PhotographId later,
			@RequestParam(defaultValue = "BESIDE") Showing as) {
		this.patients.open(patient);
		var shown = shown(patient);
		var two = (earlier != null && later != null) ? Optional.of(new Pair(of(shown, earlier), of(shown, later)))
				: likeliest(shown);
		var page = page(patient, shown, as, two, HttpStatus.OK);
		two.ifPresent((pair) -> page.addObject("form", LandmarksForm.of(pair.earlier(), pair.later())));
		return page;
	}

	@PostMapping("/patients/{patient}/photographs/landmarks")
	ModelAndView mark(@PathVariable PatientId patient, @Valid @ModelAttribute("form") LandmarksForm form,
			BindingResult errors, RedirectAttributes flash) {
		var shown = shown(patient);
		var pair = new Pair(of(shown, form.earlier()), of(shown, form.later()));
		if (!errors.hasErrors()) {
			requireApart(form, errors);
		}
		if (!errors.hasErrors()) {
			this.photographs.mark(form.earlier(), form.ofEarlier());
			this.photographs.mark(form.later(), form.ofLater());
			flash.addFlashAttribute("notice", "photograph.landmarks.kept");
			return new ModelAndView("redirect:/patients/%s/photographs/compare?earlier=%s&later=%s&as=upon"
				.formatted(patient, form.earlier(), form.later()));
		}
		return page(patient, shown, Showing.LANDMARKS, Optional.of(pair), HttpStatus.UNPROCESSABLE_CONTENT);
	}

	/* Both or neither: the second picture must not refuse what the first has kept. */
	private static void requireApart(LandmarksForm form, BindingResult errors) {
		if (!form.ofEarlier().areApart()) {
			errors.rejectValue("secondX", "photograph.rule.landmarks-too-near");
		}
		if (!form.ofLater().areApart()) {
			errors.rejectValue("laterSecondX", "photograph.rule.landmarks-too-near");
		}
	}

	private record Pair(Photograph earlier, Photograph later) {
	}

	private List<Photograph> shown(PatientId patient) {
		this.patients.requireExisting(patient);
		return this.photographs.of(patient).stream().filter((photograph) -> !photograph.isSetAside()).toList();
	}

	private static Photograph of(List<Photograph> shown, @Nullable PhotographId id) {
		return shown.stream()
			.filter((photograph) -> photograph.id().equals(id))
			.findFirst()
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	/** The first and the last of the view that spans the longest time. */
	private static Optional<Pair> likeliest(List<Photograph> latestFirst) {
		return latestFirst.stream()
			.flatMap((later) -> latestFirst.stream()
				.filter((earlier) -> earlier.takenOn().isBefore(later.takenOn()))
				.map((earlier) -> new Pair(earlier, later)))
			.filter((pair) -> Comparability.of(pair.earlier(), pair.later()).isGiven())
			.max(Comparator
				.comparingLong(
						(Pair pair) -> pair.later().takenOn().toEpochDay() - pair.earlier().takenOn().toEpochDay())
				.thenComparing((pair) -> pair.later().view(), Comparator.reverseOrder()));
	}

	private ModelAndView page(PatientId patient, List<Photograph> shown, Showing as, Optional<Pair> two,
			HttpStatus status) {
		var names = this.pages.scarNames(patient);
		var page = new ModelAndView("photograph/comparison", status)
			.addObject("patient", this.patients.requireExisting(patient))
			.addObject("choices", shown.stream().map((photograph) -> {
				var line = this.pages.line(photograph, names);
				return new Choice(line.id(), line.day() + ", " + line.title() + ", " + String.join(", ", line.marks()));
			}).toList())
			.addObject("allowed", this.consent.isGiven(patient, Purpose.CARE))
			.addObject("showings", Arrays.stream(Showing.values()).map(Showing::word).toList())
			.addObject("as", as.word());
		two.ifPresent((pair) -> {
			var aligned = pair.earlier().landmarks().isPresent() && pair.later().landmarks().isPresent();
			page.addObject("earlier", drawn(pair.earlier(), null))
				.addObject("later",
						drawn(pair.later(),
								(aligned && as != Showing.LANDMARKS) ? Alignment.of(pair.earlier(), pair.later())
										: null))
				.addObject("aligned", aligned)
				.addObject("warnings", warnings(pair));
		});
		return page;
	}

	private Drawn drawn(Photograph photograph, @Nullable Alignment alignment) {
		return new Drawn(this.pages.line(photograph), photograph.width(), photograph.height(),
				(alignment != null) ? matrix(alignment) : null);
	}

	private static String matrix(Alignment alignment) {
		return String.format(Locale.ROOT, "matrix(%.6f %.6f %.6f %.6f %.3f %.3f)", alignment.a(), alignment.b(),
				0 - alignment.b(), alignment.a(), alignment.moveX(), alignment.moveY());
	}

	private List<Warning> warnings(Pair pair) {
		return Comparability.of(pair.earlier(), pair.later())
			.differences()
			.stream()
			.sorted(Comparator.comparing(Difference::prevents).reversed().thenComparing(Comparator.naturalOrder()))
			.map((difference) -> new Warning(
					this.pages.say("photograph.difference."
							+ Objects.requireNonNull(difference).name().toLowerCase(Locale.ROOT).replace('_', '-')),
					difference.prevents()))
			.toList();
	}

}
