package org.seriatim.patient.web;

import java.time.LocalDate;

import jakarta.validation.constraints.Email;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.seriatim.patient.Sebum;
import org.seriatim.patient.Sex;
import org.seriatim.patient.SkinThickness;
import org.seriatim.patient.domain.ContactDetails;
import org.seriatim.patient.domain.Identity;
import org.seriatim.patient.domain.Patient;
import org.seriatim.patient.domain.PatientDetails;
import org.seriatim.patient.domain.SkinProfile;
import org.seriatim.shell.Decimal;
import org.seriatim.shell.DecimalText;

/**
 * Identity, contact and skin profile of a patient, new or to be corrected.
 *
 * @param anotherPerson whether somebody has looked at patients of a similar name
 * @param reason why it is corrected
 * @param version the version that the form shows
 */
record PatientForm(
		@NotBlank(message = "{patient.form.record-number.missing}") @Size(max = 40) @Nullable String recordNumber,
		@Size(max = 100) @Nullable String familyName, @Size(max = 100) @Nullable String givenName,
		@Nullable LocalDate birthDate, @Nullable Sex sex,
		@Size(max = 40) @Pattern(regexp = ".*\\d.*", message = "{patient.form.phone.form}") @Nullable String phone,
		@Size(max = 254) @Email @Nullable String email, @Decimal(min = "1", max = "6") @Nullable String phototype,
		@Nullable SkinThickness skinThickness, @Nullable Sebum sebum, @Nullable Boolean anotherPerson,
		@Size(max = 500) @Nullable String reason, @Nullable Long version) {

	static PatientForm empty() {
		return new PatientForm(null, null, null, null, null, null, null, null, null, null, null, null, null);
	}

	static PatientForm from(Patient patient) {
		var identity = patient.identity();
		var contact = patient.contact();
		var skin = patient.skin();
		return new PatientForm(identity.recordNumber(), identity.familyName(), identity.givenName(),
				identity.birthDate(), identity.sex(), contact.phone(), contact.email(),
				DecimalText.of(skin.phototype()), skin.skinThickness(), skin.sebum(), null, null, patient.version());
	}

	boolean isAnotherPerson() {
		return Boolean.TRUE.equals(this.anotherPerson);
	}

	boolean hasNoName() {
		return this.familyName == null && this.givenName == null;
	}

	/**
	 * @param withSkin whether the person who sent the form may speak of the skin
	 */
	PatientDetails toDetails(boolean withSkin) {
		return new PatientDetails(toIdentity(), new ContactDetails(this.phone, this.email),
				withSkin ? new SkinProfile(DecimalText.whole(this.phototype), this.skinThickness, this.sebum) : null);
	}

	Identity toIdentity() {
		if (this.recordNumber == null) {
			throw new IllegalStateException("a form without a record number is refused before");
		}
		return new Identity(this.recordNumber, this.familyName, this.givenName, this.birthDate, this.sex);
	}

	/** Prints no content of the record. */
	@Override
	public String toString() {
		return "patient form";
	}

}
