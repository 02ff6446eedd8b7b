package org.seriatim.contactlink.web;

import java.net.URI;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;

import jakarta.mail.internet.AddressException;
import jakarta.mail.internet.InternetAddress;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.contactlink.domain.LinkSettings;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;
import org.seriatim.shell.ShownVersion;
import org.springframework.validation.BindingResult;

/**
 * What the clinic says to patients who answer by a link.
 *
 * @param basedOn the version that the form was filled from
 */
record LinkSettingsForm(@ShownVersion @NotNull @Nullable Integer basedOn,
		@Size(max = 600) @Nullable String emergencyText, @Size(max = 40) @Nullable String emergencyPhone,
		@Size(max = 300) @Nullable String readingTimes, @Size(max = 100) @Nullable String clinicName,
		@Size(max = 40) @Nullable String clinicPhone, @Size(max = 200) @Nullable String baseAddress,
		@NotBlank @Decimal(min = "1", max = "365", unit = "days") @Nullable String linkDays,
		@Size(max = 200) @Nullable String mailSender, @NotBlank @Size(max = 120) @Nullable String mailSubject,
		@NotBlank @Size(max = 2000) @Nullable String mailBody) {

	private static final Pattern PLACE = Pattern.compile("\\{[^{}]*}");

	private static final Set<String> IN_SUBJECT = Set.of(LinkSettings.CLINIC, LinkSettings.PHONE);

	private static final Set<String> IN_BODY = Set.of(LinkSettings.CLINIC, LinkSettings.PHONE, LinkSettings.LINK);

	private static final Pattern TELEPHONE = Pattern.compile("\\+?[0-9][0-9 ()/.-]*");

	static LinkSettingsForm from(LinkSettings settings) {
		return new LinkSettingsForm(settings.number(), settings.emergencyText(), settings.emergencyPhone(),
				settings.readingTimes(), settings.clinicName(), settings.clinicPhone(), settings.baseAddress(),
				String.valueOf(settings.days()), settings.sender(), settings.subject(), settings.body());
	}

	/** What a single field cannot know of its own. */
	void check(BindingResult errors) {
		checkTelephone("emergencyPhone", this.emergencyPhone, errors);
		checkTelephone("clinicPhone", this.clinicPhone, errors);
		if (this.clinicName != null && this.clinicName.chars().anyMatch(Character::isISOControl)) {
			errors.rejectValue("clinicName", "contactlink.settings.one-line");
		}
		if (this.baseAddress != null && !isBaseAddress(this.baseAddress)) {
			errors.rejectValue("baseAddress", "contactlink.settings.base-address.wrong");
		}
		if (this.mailSender != null && !isAddress(this.mailSender)) {
			errors.rejectValue("mailSender", "contactlink.settings.sender.wrong");
		}
		if (this.mailSubject != null) {
			if (this.mailSubject.chars().anyMatch(Character::isISOControl)) {
				errors.rejectValue("mailSubject", "contactlink.settings.one-line");
			}
			checkPlaces("mailSubject", this.mailSubject, IN_SUBJECT, errors);
		}
		if (this.mailBody != null) {
			if (this.mailBody.split(Pattern.quote(LinkSettings.LINK), -1).length != 2) {
				errors.rejectValue("mailBody", "contactlink.settings.body.link");
			}
			checkPlaces("mailBody", this.mailBody, IN_BODY, errors);
		}
	}

	private static void checkTelephone(String field, @Nullable String number, BindingResult errors) {
		if (number != null && !TELEPHONE.matcher(number.strip()).matches()) {
			errors.rejectValue(field, "contactlink.settings.telephone.wrong");
		}
	}

	private static void checkPlaces(String field, String template, Set<String> known, BindingResult errors) {
		PLACE.matcher(template)
			.results()
			.map((place) -> place.group())
			.filter((place) -> !known.contains(place))
			.findFirst()
			.ifPresent((place) -> errors.rejectValue(field, "contactlink.settings.place.unknown",
					new Object[] { place }, null));
	}

	/**
	 * Encrypted, but on the machine itself; without a query, which the link would end up
	 * in.
	 */
	private static boolean isBaseAddress(String text) {
		try {
			var address = URI.create(text.strip());
			var local = "localhost".equals(address.getHost()) || "127.0.0.1".equals(address.getHost());
			return address.getHost() != null && address.getQuery() == null && address.getFragment() == null
					&& address.getUserInfo() == null
					&& ("https".equals(address.getScheme()) || local && "http".equals(address.getScheme()));
		}
		catch (IllegalArgumentException ex) {
			return false;
		}
	}

	private static boolean isAddress(String text) {
		try {
			var address = new InternetAddress(text.strip(), true);
			return address.getPersonal() == null && address.getAddress().equals(text.strip()) && text.indexOf('@') > 0
					&& text.chars().noneMatch(Character::isISOControl);
		}
		catch (AddressException ex) {
			return false;
		}
	}

	/** What a form without faults says. */
	LinkSettings toSettings() {
		var base = stripped(this.baseAddress);
		return new LinkSettings(Objects.requireNonNull(this.basedOn), stripped(this.clinicName),
				stripped(this.clinicPhone), stripped(this.emergencyText), stripped(this.emergencyPhone),
				stripped(this.readingTimes), (base != null) ? base.replaceFirst("/+$", "") : null,
				Objects.requireNonNull(DecimalText.whole(this.linkDays)), stripped(this.mailSender),
				Objects.requireNonNull(this.mailSubject).strip(),
				Objects.requireNonNull(this.mailBody).replace("\r\n", "\n").strip() + "\n");
	}

	private static @Nullable String stripped(@Nullable String text) {
		return (text == null || text.isBlank()) ? null : text.replace("\r\n", "\n").strip();
	}

}
