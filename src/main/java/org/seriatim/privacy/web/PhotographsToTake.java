package org.seriatim.privacy.web;

import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.exchange.BundleExport.FileBeside;
import org.seriatim.patient.PatientId;
import org.seriatim.photograph.PhotographCopies;
import org.seriatim.photograph.PhotographCopies.Allowed;
import org.seriatim.photograph.PhotographCopies.Held;
import org.seriatim.shell.Written;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;

/**
 * The photographs of a patient as files, with a page that lists them and a list of their
 * checksums. Without consent to their being looked at, the list says that they are held
 * and the files stay here.
 */
@Component
class PhotographsToTake {

	private static final String FOLDER = "photographs/";

	private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH);

	private final PhotographCopies photographs;

	private final ITemplateEngine templates;

	private final MessageSource messages;

	private final Clock clock;

	PhotographsToTake(PhotographCopies photographs, ITemplateEngine templates, MessageSource messages, Clock clock) {
		this.photographs = photographs;
		this.templates = templates;
		this.messages = messages;
		this.clock = clock;
	}

	/**
	 * A line of the list.
	 *
	 * @param file name beside the list; none where it is not given out
	 */
	record Line(@Nullable String file, String takenOn, String view, String scar, String light, String note,
			String sha256) {
	}

	List<FileBeside> of(PatientId patient, Locale locale) {
		var held = this.photographs.of(patient);
		if (held.isEmpty()) {
			return List.of();
		}
		var shown = this.photographs.mayBeShown(patient);
		var names = names(held);
		var given = new LinkedHashMap<Held, String>();
		var files = new ArrayList<FileBeside>();
		if (shown) {
			held.forEach((one) -> files.add(new FileBeside(FOLDER + names.get(one), () -> {
				var picture = this.photographs.forThePatient(one.id());
				picture.ifPresent((there) -> given.put(one, names.get(one)));
				return picture;
			})));
		}
		// after the pictures, so that they name those alone that are there
		files.add(new FileBeside(FOLDER + "SHA256SUMS",
				() -> Optional
					.of(given.entrySet()
						.stream()
						.map((one) -> one.getKey().sha256() + "  " + one.getValue() + "\n")
						.collect(Collectors.joining()))
					.filter((sums) -> !sums.isEmpty())
					.map(PhotographsToTake::bytes)));
		files.add(new FileBeside(FOLDER + "photographs.html",
				() -> Optional.of(bytes(list(patient, held, given, shown, locale)))));
		return files;
	}

	private static byte[] bytes(String text) {
		return text.getBytes(StandardCharsets.UTF_8);
	}

	/** By day and view, numbered where there are several. */
	private static Map<Held, String> names(List<Held> held) {
		var taken = new HashSet<String>();
		return held.stream().collect(Collectors.toMap((one) -> one, (one) -> {
			var stem = one.takenOn() + "-" + one.view().word().replace('_', '-')
					+ ((one.region() != null) ? "-" + one.region().replace('_', '-') : "");
			var name = stem + ".jpg";
			for (int more = 2; !taken.add(name); more++) {
				name = stem + "-" + more + ".jpg";
			}
			return name;
		}));
	}

	private String list(PatientId patient, List<Held> held, Map<Held, String> names, boolean shown, Locale locale) {
		var page = new Context(locale);
		page.setVariable("lines", held.stream().map((one) -> line(one, names.get(one), locale)).toList());
		page.setVariable("shown", shown);
		page.setVariable("consents",
				this.photographs.consentsOf(patient).stream().map((one) -> consent(one, locale)).toList());
		page.setVariable("madeAt", Written.time(this.clock.instant(), this.clock.getZone()));
		return this.templates.process("privacy/photographs-to-take", page);
	}

	private Line line(Held held, @Nullable String file, Locale locale) {
		var day = Written.day(held.takenOn());
		var view = say("view." + held.view().word(), locale);
		return new Line(file, (held.takenAt() != null) ? day + ", " + TIME.format(held.takenAt()) : day,
				(held.region() != null) ? view + ", " + say("region." + held.region(), locale) : view,
				(held.scar() != null) ? held.scar() : "\u2013", say("light-set." + held.lightSet().word(), locale),
				held.setAside() ? say("privacy.photographs.set-aside", locale) : "\u2013", held.sha256());
	}

	private String consent(Allowed allowed, Locale locale) {
		var purpose = say("photograph-purpose." + allowed.purpose().word(), locale);
		var withdrawn = allowed.withdrawnOn();
		return (withdrawn != null)
				? this.messages.getMessage("privacy.photographs.consent.withdrawn",
						new Object[] { purpose, Written.day(allowed.givenOn()), Written.day(withdrawn) }, locale)
				: this.messages.getMessage("privacy.photographs.consent",
						new Object[] { purpose, Written.day(allowed.givenOn()) }, locale);
	}

	private String say(String key, Locale locale) {
		return this.messages.getMessage(key, null, locale);
	}

}
