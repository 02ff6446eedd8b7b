package org.seriatim.contactlink.domain;

import java.util.EnumSet;
import java.util.Set;

import org.jspecify.annotations.Nullable;

/**
 * What a clinic says to patients who answer by a link. What nobody entered is
 * {@code null}.
 *
 * @param number of the version
 * @param emergencyText where to turn in an emergency, in the clinic's own words
 * @param readingTimes when answers are read
 * @param baseAddress of the service as patients reach it, without a slash at its end
 * @param days how long a link holds, at most until the next session
 * @param sender the address that mail comes from
 * @param subject of the mail
 * @param body of the mail, with places for the link, the clinic and its telephone
 */
public record LinkSettings(int number, @Nullable String clinicName, @Nullable String clinicPhone,
		@Nullable String emergencyText, @Nullable String emergencyPhone, @Nullable String readingTimes,
		@Nullable String baseAddress, int days, @Nullable String sender, String subject, String body) {

	/** Where the link stands in the body of the mail. */
	public static final String LINK = "{link}";

	/** Where the clinic's name stands. */
	public static final String CLINIC = "{clinic}";

	/** Where the clinic's telephone number stands. */
	public static final String PHONE = "{phone}";

	/** What must be set before a link is made. */
	public enum Required {

		EMERGENCY_TEXT, EMERGENCY_PHONE, READING_TIMES, BASE_ADDRESS

	}

	/** What is still to be set; empty once links can be made. */
	public Set<Required> missing() {
		var missing = EnumSet.noneOf(Required.class);
		if (this.emergencyText == null) {
			missing.add(Required.EMERGENCY_TEXT);
		}
		if (this.emergencyPhone == null) {
			missing.add(Required.EMERGENCY_PHONE);
		}
		if (this.readingTimes == null) {
			missing.add(Required.READING_TIMES);
		}
		if (this.baseAddress == null) {
			missing.add(Required.BASE_ADDRESS);
		}
		return missing;
	}

	/** The address that a patient opens. */
	public String addressOf(String token) {
		return ((this.baseAddress != null) ? this.baseAddress : "") + "/answer/" + token;
	}

	/** The subject as it is sent. */
	public String writtenSubject() {
		return filled(this.subject, "");
	}

	/** The body as it is sent. */
	public String writtenBody(String link) {
		return filled(this.body, link);
	}

	private String filled(String template, String link) {
		return template.replace(CLINIC, (this.clinicName != null) ? this.clinicName : "")
			.replace(PHONE, (this.clinicPhone != null) ? this.clinicPhone : "")
			.replace(LINK, link);
	}

	boolean saysTheSameAs(LinkSettings other) {
		return numbered(0).equals(other.numbered(0));
	}

	private LinkSettings numbered(int other) {
		return new LinkSettings(other, this.clinicName, this.clinicPhone, this.emergencyText, this.emergencyPhone,
				this.readingTimes, this.baseAddress, this.days, this.sender, this.subject, this.body);
	}

}
