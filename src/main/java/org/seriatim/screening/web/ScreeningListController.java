package org.seriatim.screening.web;

import java.time.Clock;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.Stream;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffMember;
import org.seriatim.screening.ListedItem;
import org.seriatim.screening.ScreeningItem.Asked;
import org.seriatim.screening.ScreeningItem.Level;
import org.seriatim.screening.ScreeningList;
import org.seriatim.screening.domain.ListRefused;
import org.seriatim.screening.domain.NothingNew;
import org.seriatim.screening.domain.ScreeningLists;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Setup: what is asked before a session, its history, and the next version of it. */
@Controller
@ConditionalOnWebApplication
class ScreeningListController {

	/** Places for new items that the form offers at once. */
	private static final int OFFERED = 3;

	private final ScreeningLists lists;

	private final StaffDirectory staff;

	private final CurrentStaff current;

	private final Clock clock;

	ScreeningListController(ScreeningLists lists, StaffDirectory staff, CurrentStaff current, Clock clock) {
		this.lists = lists;
		this.staff = staff;
		this.current = current;
		this.clock = clock;
	}

	/** One line of the history. */
	record Version(int number, String publishedAt, @Nullable String publishedBy, String reason) {
	}

	/**
	 * An item on the form.
	 *
	 * @param place where its row stands
	 * @param legend what is asked until now; none for a new one
	 */
	record Line(int place, String word, @Nullable String legend) {

		static Line of(ListedItem item) {
			return new Line(item.place(), item.word(), item.question());
		}

	}

	@GetMapping("/setup/screening")
	ModelAndView show(@RequestParam(required = false) @Nullable Integer version) {
		var history = this.lists.history();
		var shown = (version != null)
				? this.lists.byNumber(version).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND))
				: this.lists.current();
		return new ModelAndView("screening/list").addObject("number", shown.number())
			.addObject("isCurrent", shown.number() == history.get(0).number())
			.addObject("items", shown.items())
			.addObject("mayPublish", this.current.has(Role.CLINIC_LEAD))
			.addObject("history", history.stream().map(this::version).toList());
	}

	@GetMapping("/setup/screening/new")
	ModelAndView ask() {
		var list = this.lists.current();
		return page(list, HttpStatus.OK).addObject("form", ScreeningListForm.from(list));
	}

	@PostMapping("/setup/screening/new")
	ModelAndView publish(@Valid @ModelAttribute("form") ScreeningListForm form, BindingResult errors,
			RedirectAttributes flash) {
		var list = this.lists.current();
		form.check(list, errors);
		if (!errors.hasErrors()) {
			try {
				this.lists.publish(form.toList(list), Objects.requireNonNull(form.reason()).strip());
				flash.addFlashAttribute("notice", "screening.list.published");
				return new ModelAndView("redirect:/setup/screening");
			}
			catch (NothingNew ex) {
				errors.reject("screening.list.nothing-new");
			}
			catch (ListRefused ex) {
				reject(ex, list, errors);
			}
		}
		return page(list, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private static void reject(ListRefused refused, ScreeningList list, BindingResult errors) {
		var most = list.item(refused.item()).flatMap(ListedItem::standard).map((item) -> item.validDays()).orElse(0);
		var field = switch (refused.rule()) {
			case FIXED_ITEM_VALID_LONGER -> "validDays";
			case STANDARD_ITEM_CHANGED -> "level";
			case ASKED_TWICE, ITEM_LOST, FIXED_ITEM_CHANGED -> "question";
		};
		errors.rejectValue("items[" + Math.max(0, ListedItem.place(refused.item())) + "]." + field,
				"screening.list.rule." + refused.rule().name().toLowerCase(Locale.ROOT).replace('_', '-'),
				new Object[] { most }, null);
	}

	private ModelAndView page(ScreeningList list, HttpStatus status) {
		var items = list.items();
		var free = list.unused().stream().limit(OFFERED).map((word) -> new Line(ListedItem.place(word), word, null));
		return new ModelAndView("screening/list-form", status).addObject("next", list.number() + 1)
			.addObject("fixed",
					items.stream().filter((item) -> item.isFixed() && !isOfOneDay(item)).map(Line::of).toList())
			.addObject("untouched", items.stream().filter((item) -> item.isFixed() && isOfOneDay(item)).toList())
			.addObject("standard",
					items.stream().filter((item) -> !item.isOwn() && !item.isFixed()).map(Line::of).toList())
			.addObject("own", Stream.concat(items.stream().filter(ListedItem::isOwn).map(Line::of), free).toList())
			.addObject("levels", Choice.ofWords("screening-level", Level.values()))
			.addObject("times", Choice.ofWords("screening-asked",
					List.of(Asked.EVERY_SESSION, Asked.WHEN_LAPSED, Asked.IF_ENERGY_DEVICE)));
	}

	/** Whose answer cannot count for a shorter time. */
	private static boolean isOfOneDay(ListedItem item) {
		return item.standard().filter((standard) -> standard.validDays() == 1).isPresent();
	}

	private Version version(ScreeningLists.Published published) {
		return new Version(published.number(), Written.time(published.at(), this.clock.getZone()),
				(published.by() != null) ? this.staff.byId(published.by()).map(StaffMember::name).orElse(null) : null,
				published.reason());
	}

}
