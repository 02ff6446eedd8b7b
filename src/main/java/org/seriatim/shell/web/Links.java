package org.seriatim.shell.web;

import org.springframework.stereotype.Component;
import org.springframework.web.util.UriComponentsBuilder;

/** Addresses that differ from a given one in a single parameter. */
@Component("links")
class Links {

	/** The address with the parameter set to the value, whatever it was before. */
	public String with(String address, String parameter, Object value) {
		return UriComponentsBuilder.fromUriString(address)
			.replaceQueryParam(parameter, "{value}")
			.encode()
			.buildAndExpand(value)
			.toUriString();
	}

}
