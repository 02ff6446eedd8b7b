package org.seriatim.outcome.web;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.function.Function;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.finding.FindingKind;
import org.seriatim.outcome.domain.ComplicationGrouping;
import org.seriatim.outcome.domain.Complications;
import org.seriatim.outcome.domain.FollowedSessions;
import org.seriatim.outcome.domain.Funnel;
import org.seriatim.outcome.domain.Practitioners;
import org.seriatim.outcome.domain.ReviewSignals;
import org.seriatim.outcome.domain.SessionsAndFindings;
import org.seriatim.outcome.domain.Signal;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** What goes wrong, how often, and what of it chance does not explain. */
@Controller
class ComplicationsController {

	private static final String PATH = "/outcomes/complications";

	private static final FilterReader.Extra GROUP = FilterReader.Extra.ofWords("group", "outcome.filter.group", "none",
			Arrays.stream(ComplicationGrouping.values()).map(ComplicationGrouping::word).toList());

	private static final FilterReader.Extra KIND = FilterReader.Extra.ofWords("kind", "finding-kind", "",
			Arrays.stream(FindingKind.values()).map(FindingKind::word).toList());

	/** One false alarm in so many sessions while nothing has changed. */
	private static final FilterReader.Extra ALARM = FilterReader.Extra.ofWords("alarm", "outcome.filter.alarm", "1000",
			List.of("250", "500", "1000", "2000", "5000"));

	private static final FilterReader.Extra TABLE = FilterReader.Extra.ofWords("table", "outcome.complications",
			"rates", List.of("rates", "beside", "practitioners", "lots", "charts", "gaps"));

	private final FilterReader filters;

	private final FollowedSessions sessions;

	private final Complications complications;

	private final Practitioners practitioners;

	private final PractitionerLabels labels;

	private final ReviewSignals reviews;

	private final ComplicationsPage page;

	private final CurrentStaff staff;

	private final OutcomeWords words;

	ComplicationsController(FilterReader filters, FollowedSessions sessions, Complications complications,
			Practitioners practitioners, PractitionerLabels labels, ReviewSignals reviews, ComplicationsPage page,
			CurrentStaff staff, OutcomeWords words) {
		this.filters = filters;
		this.sessions = sessions;
		this.complications = complications;
		this.practitioners = practitioners;
		this.labels = labels;
		this.reviews = reviews;
		this.page = page;
		this.staff = staff;
		this.words = words;
	}

	@GetMapping(PATH)
	ModelAndView show(@RequestParam Map<String, String> sent) {
		var bar = this.filters.read(PATH, sent, GROUP, KIND, ALARM);
		var title = this.words.text("outcome.complications.title");
		var lead = this.words.text("outcome.complications.lead");
		if (bar.isWrong()) {
			return new ModelAndView("outcome/complications",
					Map.of("page", new OutcomeView(title, lead, bar, null, List.of(), List.of()), "signals", List.of()),
					HttpStatus.BAD_REQUEST);
		}
		var filter = bar.filter();
		var grouping = grouping(bar);
		var kind = kind(bar);
		var names = this.labels.ofPage();
		var sections = new ArrayList<OutcomeView.Section>();
		var read = this.complications.read(filter, kind);
		sections.add(this.page.rateSection(read.rates(grouping), grouping, names, bar));
		var signals = List.<ComplicationsPage.Signalled>of();
		if (kind == null) {
			sections.add(new OutcomeView.Writing("charts", this.words.text("outcome.complications.charts"))
				.say(this.words.text("outcome.complications.choose-kind"))
				.done());
		}
		else {
			var practitionerFunnel = funnel(read, ComplicationGrouping.PRACTITIONER, kind);
			var lotFunnel = funnel(read, ComplicationGrouping.LOT, kind);
			var surveillance = read.surveillance(Integer.parseInt(bar.chosen("alarm")));
			signals = this.page.signals(practitionerFunnel, lotFunnel, surveillance, names, kind);
			sections.add(this.page.funnelSection(practitionerFunnel, "practitioners", names, bar, kind));
			sections.add(this.page.funnelSection(lotFunnel, "lots", (lot) -> lot, bar, kind));
			sections.add(this.page.chartSection(surveillance, names, bar, kind));
			if (surveillance.gaps() != null) {
				sections.add(this.page.gapSection(surveillance.gaps(), bar, kind));
			}
		}
		var view = new ModelAndView("outcome/complications", "page",
				new OutcomeView(
						title, lead, bar, this.sessions.flow(filter), List.of(this.words
							.text("outcome.complications.left-out", this.complications.withoutSession(kind))),
						sections));
		return view.addObject("signals", signals)
			.addObject("isLead", this.staff.has(Role.CLINIC_LEAD))
			.addObject("named", this.practitioners.areNamed())
			.addObject("chosen", chosen(bar));
	}

	/** The filters again, for the form that opens a review of this very view. */
	private static Map<String, String> chosen(FilterBar bar) {
		var chosen = new HashMap<String, String>();
		bar.fields().forEach((field) -> chosen.put(field.name(), field.chosen()));
		chosen.values().removeIf(String::isEmpty);
		return chosen;
	}

	private static @Nullable Funnel funnel(SessionsAndFindings read, ComplicationGrouping grouping, FindingKind kind) {
		var clinic = read.rates(ComplicationGrouping.NONE).ofKind(kind).get("all");
		return (clinic != null && Funnel.isPossible(clinic))
				? Funnel.of(clinic, read.rates(grouping).ofKind(kind).values()) : null;
	}

	@GetMapping(PATH + ".csv")
	void file(@RequestParam Map<String, String> sent, HttpServletResponse response) throws IOException {
		var bar = this.filters.read(PATH, sent, GROUP, KIND, ALARM, TABLE);
		if (bar.isWrong()) {
			FigureFile.refuse(bar, response);
			return;
		}
		var filter = bar.filter();
		var kind = kind(bar);
		var grouping = grouping(bar);
		var table = bar.chosen("table");
		if (kind == null && !table.equals("rates") && !table.equals("beside")) {
			response.sendError(HttpStatus.BAD_REQUEST.value());
			return;
		}
		var read = this.complications.read(filter, kind);
		var alarm = Integer.parseInt(bar.chosen("alarm"));
		FigureFile.write(switch (table) {
			case "beside" -> this.page.beside(read.rates(grouping), grouping, file(grouping));
			case "practitioners", "lots" -> funnelFile(read, table, Objects.requireNonNull(kind));
			case "charts" -> this.page.charts(read.surveillance(alarm), this.labels.ofFile());
			case "gaps" -> this.page.gaps(read.surveillance(alarm).gaps());
			default -> this.page.rates(read.rates(grouping), grouping, file(grouping));
		}, response);
	}

	private Figures funnelFile(SessionsAndFindings read, String table, FindingKind kind) {
		boolean lots = table.equals("lots");
		var funnel = funnel(read, lots ? ComplicationGrouping.LOT : ComplicationGrouping.PRACTITIONER, kind);
		return this.page.funnel(
				(funnel != null) ? funnel : new Funnel(0.5, 1, List.of(), java.util.OptionalDouble.empty()), table,
				lots ? (lot) -> lot : this.labels.ofFile());
	}

	/** Names only where they are asked for, since each opening is put on record. */
	private Function<String, String> file(ComplicationGrouping grouping) {
		return (grouping == ComplicationGrouping.PRACTITIONER) ? this.labels.ofFile() : (id) -> id;
	}

	/** Opens a review of a signal that this view shows, with the figures as they are. */
	@PostMapping("/outcomes/reviews")
	String open(@RequestParam Map<String, String> sent, RedirectAttributes flash) {
		var bar = this.filters.read(PATH, sent, GROUP, KIND, ALARM);
		var kind = kind(bar);
		if (bar.isWrong() || kind == null) {
			throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
		}
		var chart = constant(Signal.Chart.values(), sent.get("chart"));
		var unit = constant(Signal.Unit.values(), sent.get("unit"));
		var value = sent.get("value");
		var filter = bar.filter();
		var read = this.complications.read(filter, kind);
		var clinic = read.rates(ComplicationGrouping.NONE).ofKind(kind).get("all");
		var row = switch (unit) {
			case CLINIC -> clinic;
			case PRACTITIONER -> read.rates(ComplicationGrouping.PRACTITIONER).ofKind(kind).get(value);
			case LOT -> read.rates(ComplicationGrouping.LOT).ofKind(kind).get(value);
		};
		if (row == null || clinic == null) {
			throw new ResponseStatusException(HttpStatus.BAD_REQUEST);
		}
		var review = this.reviews.open(ComplicationsPage.signal(chart, unit,
				(unit == Signal.Unit.CLINIC) ? null : value, filter, row, clinic.rate()));
		flash.addFlashAttribute("notice", "outcome.review.opened");
		return "redirect:/outcomes/reviews/" + review;
	}

	private static <E extends Enum<E>> E constant(E[] constants, @Nullable String word) {
		return Arrays.stream(constants)
			.filter((constant) -> constant.name().toLowerCase(Locale.ROOT).equals(word))
			.findFirst()
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.BAD_REQUEST));
	}

	private static ComplicationGrouping grouping(FilterBar bar) {
		return ComplicationGrouping.valueOf(bar.chosen("group").toUpperCase(Locale.ROOT));
	}

	private static @Nullable FindingKind kind(FilterBar bar) {
		var chosen = bar.chosen("kind");
		return (chosen.isEmpty() || bar.isWrong()) ? null : FindingKind.valueOf(chosen.toUpperCase(Locale.ROOT));
	}

}
