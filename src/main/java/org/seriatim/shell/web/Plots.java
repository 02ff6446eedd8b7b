package org.seriatim.shell.web;

import org.seriatim.shell.Plot;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** Plots as the script reads them from an attribute of their place on the page. */
@Component("plots")
class Plots {

	private final JsonMapper json = JsonMapper.shared();

	/** The plot as JSON; the template escapes it. */
	public String json(Plot plot) {
		return this.json.writeValueAsString(plot);
	}

}
