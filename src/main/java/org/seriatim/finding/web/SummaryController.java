package org.seriatim.finding.web;

import org.seriatim.finding.FindingId;
import org.seriatim.finding.domain.KeepFindings;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;

/**
 * A summary of a finding that says nobody's name, for a report that the clinic may have
 * to make. The service shows it and sends it to nobody.
 */
@Controller
@ConditionalOnWebApplication
class SummaryController {

	private final KeepFindings keep;

	private final SummaryPages pages;

	SummaryController(KeepFindings keep, SummaryPages pages) {
		this.keep = keep;
		this.pages = pages;
	}

	@GetMapping("/findings/{finding}/summary")
	ModelAndView summary(@PathVariable FindingId finding) {
		return this.pages
			.of(this.keep.byId(finding).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND)));
	}

}
