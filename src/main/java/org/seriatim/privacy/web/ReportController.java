package org.seriatim.privacy.web;

import java.io.IOException;
import java.time.Clock;
import java.util.Locale;

import jakarta.servlet.http.HttpServletResponse;
import org.seriatim.exchange.BundleExport;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.privacy.domain.ReportOnPatient;
import org.seriatim.shell.Written;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.ModelAndView;

/** Everything that is held about a patient, to be read, printed and taken along. */
@Controller
class ReportController {

	private final ReportOnPatient report;

	private final ReportWording wording;

	private final BundleExport bundle;

	private final PhotographsToTake photographs;

	private final PatientDirectory patients;

	private final Clock clock;

	ReportController(ReportOnPatient report, ReportWording wording, BundleExport bundle, PhotographsToTake photographs,
			PatientDirectory patients, Clock clock) {
		this.report = report;
		this.wording = wording;
		this.bundle = bundle;
		this.photographs = photographs;
		this.patients = patients;
		this.clock = clock;
	}

	@GetMapping("/patients/{patient}/report")
	ModelAndView show(@PathVariable PatientId patient) {
		var known = this.patients.open(patient);
		return new ModelAndView("privacy/report", "patient", known)
			.addObject("held", this.wording.of(this.report.of(known)))
			.addObject("madeAt", Written.time(this.clock.instant(), this.clock.getZone()));
	}

	@PostMapping("/patients/{patient}/report.zip")
	void download(@PathVariable PatientId patient, HttpServletResponse response, Locale locale) throws IOException {
		var known = this.patients.requireExisting(patient);
		var photographs = this.photographs.of(known.id(), locale);
		response.setContentType("application/zip");
		response.setHeader(HttpHeaders.CONTENT_DISPOSITION,
				ContentDisposition.attachment().filename("seriatim-record.zip").build().toString());
		this.bundle.zipOf(known, photographs, response.getOutputStream());
	}

}
