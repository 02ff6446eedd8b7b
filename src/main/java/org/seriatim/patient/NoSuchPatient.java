package org.seriatim.patient;

import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.ResponseStatus;

/** An address or a reference names a patient that does not exist. */
@ResponseStatus(HttpStatus.NOT_FOUND)
public class NoSuchPatient extends RuntimeException {

	public NoSuchPatient() {
		super("there is no such patient");
	}

}
