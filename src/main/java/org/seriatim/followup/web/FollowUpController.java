package org.seriatim.followup.web;

import java.io.IOException;
import java.time.Clock;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Stream;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.followup.AdviceWording;
import org.seriatim.followup.domain.FollowUp;
import org.seriatim.followup.domain.FollowUpList;
import org.seriatim.shell.Paged;
import org.seriatim.shell.Sorting;
import org.seriatim.shell.Written;

import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;

/**
 * The follow-up list. The desk sees days and what to do, never why: rules and reasons
 * speak of findings and scores.
 */
@Controller
@ConditionalOnWebApplication
class FollowUpController {

	private static final int PAGE_SIZE = 50;

	private static final Sorting BY_FIRST_DAY = new Sorting("first-day", false);

	private static final Map<String, Function<FollowUp, @Nullable Comparable<?>>> COLUMNS = Map.of("patient",
			FollowUp::recordNumber, "status", (row) -> row.standing().advice().status(), "first-day",
			(row) -> row.standing().first(), "last-day", (row) -> row.standing().last(), "contact-day",
			(row) -> row.standing().advice().nextContact());

	private final FollowUpList followUps;

	private final AdviceWording wording;

	private final CurrentStaff currentStaff;

	private final Clock clock;

	FollowUpController(FollowUpList followUps, AdviceWording wording, CurrentStaff currentStaff, Clock clock) {
		this.followUps = followUps;
		this.wording = wording;
		this.currentStaff = currentStaff;
		this.clock = clock;
	}

	@GetMapping("/follow-up")
	ModelAndView list(@RequestParam(required = false) @Nullable String sort,
			@RequestParam(defaultValue = "1") int page) {
		var today = LocalDate.now(this.clock);
		var sorting = Sorting.of(sort, COLUMNS.keySet(), BY_FIRST_DAY);
		var all = this.followUps.current().stream().sorted(order(sorting)).toList();
		var paged = paged(all, page).map((row) -> FollowUpRow.of(row, this.wording, this.clock));
		return new ModelAndView("followup/follow-up").addObject("paged", paged)
			.addObject("sorting", sorting)
			.addObject("clinical", isClinical())
			.addObject("today", Written.day(today))
			.addObject("overdue", all.stream().filter((row) -> row.isOverdueOn(today)).count())
			.addObject("contactsDue", all.stream().filter((row) -> row.isContactDueOn(today)).count());
	}

	@GetMapping(path = "/follow-up/advice.csv", produces = "text/csv")
	void csv(@RequestParam(required = false) @Nullable LocalDate on, HttpServletResponse response) throws IOException {
		var day = (on != null) ? on : LocalDate.now(this.clock);
		AdviceCsv.write(this.followUps.asOf(day), isClinical(), response);
	}

	private boolean isClinical() {
		return Stream.of(Role.ASSISTANT, Role.PRACTITIONER, Role.CLINIC_LEAD).anyMatch(this.currentStaff::has);
	}

	/** Rows without a value stand at the end, whichever way the list is sorted. */
	@SuppressWarnings("unchecked")
	private static Comparator<FollowUp> order(Sorting sorting) {
		var value = (Function<FollowUp, @Nullable Comparable<Object>>) (Function<?, ?>) COLUMNS.get(sorting.key());
		Comparator<Comparable<Object>> natural = (one, other) -> one.compareTo(other);
		return Comparator.comparing(value, Comparator.nullsLast(sorting.descending() ? natural.reversed() : natural))
			.thenComparing(FollowUp::recordNumber)
			.thenComparing(FollowUp::seriesNumber);
	}

	private static Paged<FollowUp> paged(List<FollowUp> all, int asked) {
		var pages = Math.max(1, (all.size() + PAGE_SIZE - 1) / PAGE_SIZE);
		var page = Math.max(1, Math.min(asked, pages));
		var from = (page - 1) * PAGE_SIZE;
		return new Paged<>(all.subList(from, Math.min(all.size(), from + PAGE_SIZE)), page, PAGE_SIZE, all.size());
	}

}
