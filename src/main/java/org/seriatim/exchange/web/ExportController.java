package org.seriatim.exchange.web;

import java.io.IOException;
import java.time.Clock;
import java.time.LocalDate;

import jakarta.servlet.http.HttpServletResponse;

import org.seriatim.exchange.BundleExport;

import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;

/** Setup: gives all records out as a bundle. */
@Controller
class ExportController {

	private final BundleExport bundleExport;

	private final Clock clock;

	ExportController(BundleExport bundleExport, Clock clock) {
		this.bundleExport = bundleExport;
		this.clock = clock;
	}

	@GetMapping("/setup/export")
	String show() {
		return "exchange/export";
	}

	/**
	 * Writes as it reads, so that an export is of any size. One that breaks off lacks the
	 * directory at the end of a ZIP file and so is never taken for a whole one.
	 */
	@PostMapping("/setup/export")
	void export(HttpServletResponse response) throws IOException {
		String name = "seriatim-bundle-%s.zip".formatted(LocalDate.now(this.clock));
		response.setContentType("application/zip");
		response.setHeader(HttpHeaders.CONTENT_DISPOSITION,
				ContentDisposition.attachment().filename(name).build().toString());
		this.bundleExport.zipTo(response.getOutputStream());
	}

}
