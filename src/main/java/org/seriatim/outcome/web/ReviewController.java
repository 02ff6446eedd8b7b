package org.seriatim.outcome.web;

import java.time.Clock;
import java.util.List;
import java.util.function.Function;
import java.util.stream.Collectors;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.EarlierVersions;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.outcome.domain.ReviewSignals;
import org.seriatim.outcome.domain.Signal;
import org.seriatim.outcome.domain.SignalReview;
import org.seriatim.outcome.domain.SignalReviewId;
import org.seriatim.shell.Choice;
import org.seriatim.shell.StaleVersion;
import org.seriatim.shell.Written;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Reviews of signals: all of them, and what came of each. */
@Controller
class ReviewController {

	private final ReviewSignals reviews;

	private final EarlierVersions versions;

	private final StaffDirectory directory;

	private final PractitionerLabels labels;

	private final OutcomeWords words;

	private final Clock clock;

	ReviewController(ReviewSignals reviews, EarlierVersions versions, StaffDirectory directory,
			PractitionerLabels labels, OutcomeWords words, Clock clock) {
		this.reviews = reviews;
		this.versions = versions;
		this.directory = directory;
		this.labels = labels;
		this.words = words;
		this.clock = clock;
	}

	/**
	 * A review as the list shows it.
	 *
	 * @param figures what the chart rested on
	 */
	record Line(String href, String opened, String about, String figures, String looked, boolean ended) {
	}

	/** What an earlier version said of one thing. */
	record Earlier(String at, String by, String reason, String found, String done) {
	}

	@GetMapping("/outcomes/reviews")
	ModelAndView all() {
		var names = this.labels.ofPage();
		return new ModelAndView("outcome/reviews", "reviews",
				this.reviews.all().stream().map((review) -> line(review, names)).toList());
	}

	private Line line(SignalReview review, Function<String, String> names) {
		var look = review.look();
		return new Line("/outcomes/reviews/" + review.id(), Written.day(review.openedOn()),
				about(review.signal(), names), figures(review.signal()), name(look.by()), look.ended());
	}

	private String about(Signal signal, Function<String, String> names) {
		var unit = switch (signal.unit()) {
			case CLINIC -> this.words.text("outcome.group.all");
			case PRACTITIONER -> names.apply(String.valueOf(signal.practitioner()));
			case LOT -> this.words.text("outcome.review.lot", String.valueOf(signal.lot()));
		};
		return this.words.text("outcome.review.about." + signal.chart().word(),
				this.words.word("finding-kind", signal.kind().word()), unit);
	}

	private String figures(Signal signal) {
		var from = signal.from();
		var to = signal.to();
		return this.words.text("outcome.review.figures", signal.withFinding(), signal.sessions(),
				Written.number(100.0 * signal.withFinding() / signal.sessions(), 1),
				Written.number(100 * signal.clinicRate(), 1),
				(from != null) ? Written.day(from) : this.words.text("outcome.review.first"),
				(to != null) ? Written.day(to) : this.words.text("outcome.review.opening"));
	}

	private String name(@Nullable StaffId id) {
		return (id != null) ? this.directory.byId(id).map(StaffMember::name).orElse("–") : "–";
	}

	@GetMapping("/outcomes/reviews/{review}")
	ModelAndView show(@PathVariable SignalReviewId review) {
		var known = existing(review);
		return page(known, HttpStatus.OK).addObject("form", ReviewForm.from(known));
	}

	@PostMapping("/outcomes/reviews/{review}")
	ModelAndView look(@PathVariable SignalReviewId review, @Valid @ModelAttribute("form") ReviewForm form,
			BindingResult errors, RedirectAttributes flash) {
		var known = existing(review);
		var look = form.toLook();
		if (form.ends()) {
			require(look.by() != null, "lookedBy", errors);
			require(look.found() != null, "whatWasFound", errors);
			require(look.done() != null, "whatWasDone", errors);
		}
		if (known.look().ended()) {
			require(form.reason() != null && !form.reason().isBlank(), "reason", errors);
		}
		if (look.by() != null && this.directory.byId(look.by()).isEmpty()) {
			errors.rejectValue("lookedBy", "outcome.filter.not-offered");
		}
		if (errors.hasErrors()) {
			return page(known, HttpStatus.UNPROCESSABLE_CONTENT);
		}
		StaleVersion.unlessSame(form.version(), known.version(), known.recorded());
		this.reviews.look(review, look, form.reasonOr(this.words.text("outcome.review.usual-reason")));
		flash.addFlashAttribute("notice", "outcome.review.kept");
		return new ModelAndView("redirect:/outcomes/reviews/" + review);
	}

	private static void require(boolean given, String field, BindingResult errors) {
		if (!given && !errors.hasFieldErrors(field)) {
			errors.rejectValue(field, "jakarta.validation.constraints.NotNull.message");
		}
	}

	private ModelAndView page(SignalReview review, HttpStatus status) {
		var signal = review.signal();
		return new ModelAndView("outcome/review", status).addObject("review", review.id().toString())
			.addObject("line", line(review, this.labels.ofPage()))
			.addObject("openedBy", name(review.openedBy()))
			.addObject("wasEnded", review.look().ended())
			.addObject("recall", (signal.lot() != null) ? signal.lot() : null)
			.addObject("staff",
					this.directory.all()
						.stream()
						.map((member) -> new Choice(member.id().toString(), member.name()))
						.toList())
			.addObject("earlier", earlier(review));
	}

	private List<Earlier> earlier(SignalReview review) {
		return this.versions.whole("signal_review", review.id().value())
			.map((entry) -> entry.versions()
				.stream()
				.skip(1)
				.map((version) -> new Earlier(Written.time(version.recorded().recordedAt(), this.clock.getZone()),
						name(version.recorded().recordedBy()),
						(version.recorded().correctionReason() != null) ? version.recorded().correctionReason() : "–",
						version.content().getOrDefault("found", "–"), version.content().getOrDefault("done", "–")))
				.collect(Collectors.toList()))
			.orElse(List.of());
	}

	private SignalReview existing(SignalReviewId review) {
		return this.reviews.byId(review).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
