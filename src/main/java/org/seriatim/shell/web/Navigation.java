package org.seriatim.shell.web;

import java.time.Clock;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.UUID;

import jakarta.servlet.RequestDispatcher;
import jakarta.servlet.http.HttpServletRequest;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.EmergencyAccess;
import org.seriatim.access.EmergencyNotice;
import org.seriatim.access.PatientIndex;
import org.seriatim.access.SignInTimes;
import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.seriatim.shell.StandingNotice;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.security.authentication.AnonymousAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.security.web.access.WebInvocationPrivilegeEvaluator;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/**
 * What the head of every page leads to, for whom is signed in and where they are. Asks
 * the rules of access themselves, so that the navigation can never offer what they
 * refuse.
 */
@Component("navigation")
class Navigation {

	private final List<NavigationEntry> entries;

	private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

	private final ObjectProvider<WebInvocationPrivilegeEvaluator> rules;

	private final ObjectProvider<PatientIndex> patients;

	private final List<StandingNotice> notices;

	private final Clock clock;

	Navigation(ObjectProvider<NavigationEntry> entries, ObjectProvider<WebInvocationPrivilegeEvaluator> rules,
			ObjectProvider<PatientIndex> patients, ObjectProvider<StandingNotice> notices, Clock clock) {
		this.entries = entries.stream()
			.sorted(Comparator.comparing(NavigationEntry::section)
				.thenComparingInt(NavigationEntry::order)
				.thenComparing(NavigationEntry::path))
			.toList();
		this.rules = rules;
		this.patients = patients;
		this.notices = notices.orderedStream().toList();
		this.clock = clock;
	}

	/** The navigation of the page that is being answered. */
	public Menu menu() {
		var request = currentRequest();
		var account = SecurityContextHolder.getContext().getAuthentication();
		if (request == null || account == null || account instanceof AnonymousAuthenticationToken) {
			return new Menu(null, null, null, 0, List.of(), List.of(), List.of());
		}
		return menu(path(request), request, account);
	}

	private Menu menu(String path, HttpServletRequest request, Authentication account) {
		var contextPath = request.getContextPath();
		var allowed = this.entries.stream().filter((entry) -> mayOpen(entry.path(), contextPath, account)).toList();
		var here = allowed.stream()
			.filter((entry) -> path.equals(entry.path()) || path.startsWith(entry.path() + "/"))
			.max(Comparator.comparingInt((entry) -> entry.path().length()));
		var sections = new ArrayList<Link>();
		for (var section : Section.values()) {
			var ofSection = allowed.stream().filter((entry) -> entry.section() == section).toList();
			if (!ofSection.isEmpty()) {
				var first = ofSection.get(0);
				var isHere = here.filter((entry) -> entry.section() == section).isPresent();
				sections.add(new Link(section.label(), first.path(), current(isHere, path.equals(first.path()))));
			}
		}
		var pages = here
			.map((current) -> allowed.stream()
				.filter((entry) -> entry.section() == current.section())
				.map((entry) -> new Link(entry.label(), entry.path(),
						current(entry.equals(current), path.equals(entry.path()))))
				.toList())
			.filter((links) -> links.size() > 1)
			.orElse(List.of());
		var notice = EmergencyNotice.of(request);
		return new Menu(account.getName(), SignInTimes.of(request).map(Leaving::of).orElse(null),
				notice.map(EmergencyNotice::own).map(this::open).orElse(null),
				notice.map(EmergencyNotice::awaitingReview).orElse(0), notices(path, sections, contextPath, account),
				sections, pages);
	}

	/*
	 * Not on every page: each costs a question to the database, and nobody deals with it
	 * beside a patient.
	 */
	private List<Notice> notices(String path, List<Link> sections, String contextPath, Authentication account) {
		boolean first = !sections.isEmpty() && path.equals(sections.get(0).path());
		if (!first && !path.startsWith("/setup/")) {
			return List.of();
		}
		return this.notices.stream()
			.filter((notice) -> mayOpen(notice.path(), contextPath, account))
			.flatMap((notice) -> notice.now()
				.map((said) -> new Notice(said.message(), said.arguments().toArray(), said.link(),
						path.equals(notice.path()) ? null : notice.path()))
				.stream())
			.toList();
	}

	private OpenRecord open(EmergencyAccess emergency) {
		var number = this.patients.stream()
			.flatMap((index) -> index.recordNumberOf(emergency.patient()).stream())
			.findFirst()
			.orElse("");
		return new OpenRecord(emergency.patient(), number,
				TIME.format(emergency.endsAt().atZone(this.clock.getZone())));
	}

	private boolean mayOpen(String page, String contextPath, Authentication account) {
		var evaluator = this.rules.getIfAvailable();
		return evaluator != null && evaluator.isAllowed(contextPath, page, "GET", account);
	}

	private static @Nullable String current(boolean within, boolean exactly) {
		return exactly ? "page" : within ? "true" : null;
	}

	/*
	 * An error page is another dispatch of the request: the address that failed counts.
	 */
	private static String path(HttpServletRequest request) {
		var failed = (String) request.getAttribute(RequestDispatcher.ERROR_REQUEST_URI);
		var address = (failed != null) ? failed : request.getRequestURI();
		return address.substring(request.getContextPath().length());
	}

	private static @Nullable HttpServletRequest currentRequest() {
		return (RequestContextHolder.getRequestAttributes() instanceof ServletRequestAttributes attributes)
				? attributes.getRequest() : null;
	}

	/**
	 * The head of a page.
	 *
	 * @param account name of the account that is signed in, if any
	 * @param leaving when the sign-in ends, if it ends by itself
	 * @param emergency the record that is open beyond the account's roles, if one is
	 * @param awaitingReview how many uses of emergency access the account has to review
	 * @param notices what goes on until the account's owner deals with it
	 * @param sections one link for each section of which a page may be opened
	 * @param pages the pages of the section one is in, if there are several
	 */
	record Menu(@Nullable String account, @Nullable Leaving leaving, @Nullable OpenRecord emergency, int awaitingReview,
			List<Notice> notices, List<Link> sections, List<Link> pages) {

		public boolean signedIn() {
			return this.account != null;
		}

	}

	/**
	 * Something to deal with.
	 *
	 * @param message message key of the sentence
	 * @param link message key of the words that lead to the page
	 * @param path of the page, none where that one is shown
	 */
	record Notice(String message, Object[] arguments, String link, @Nullable String path) {
	}

	/**
	 * A record that an emergency access opens.
	 *
	 * @param until time of day
	 */
	record OpenRecord(UUID patient, String recordNumber, String until) {
	}

	/**
	 * When a sign-in ends by itself, for the script that warns of it.
	 *
	 * @param idle seconds without a request after which it ends
	 * @param warning seconds before the end
	 * @param endsAt milliseconds of 1970 at which it ends in any case
	 */
	record Leaving(long idle, long warning, long endsAt) {

		private static Leaving of(SignInTimes times) {
			return new Leaving(times.idle().toSeconds(), times.warning().toSeconds(), times.endsAt().toEpochMilli());
		}

	}

	/**
	 * One link of the navigation.
	 *
	 * @param label message key
	 * @param path address within the application
	 * @param current value of {@code aria-current}, if one is there
	 */
	record Link(String label, String path, @Nullable String current) {
	}

}
