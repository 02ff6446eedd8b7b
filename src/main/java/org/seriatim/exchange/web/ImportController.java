package org.seriatim.exchange.web;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.Locale;
import java.util.UUID;

import jakarta.servlet.http.HttpServletResponse;

import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.ProblemReport;
import org.seriatim.exchange.domain.ImportJob;
import org.seriatim.exchange.domain.ImportJobs;
import org.seriatim.shell.HxGet;
import org.seriatim.shell.PassingFiles;

import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;

/** Setup: takes a bundle, shows how far that is and what came of it. */
@Controller
class ImportController {

	private final ImportJobs jobs;

	private final PassingFiles passing;

	private final Clock clock;

	ImportController(ImportJobs jobs, PassingFiles passing, Clock clock) {
		this.jobs = jobs;
		this.passing = passing;
		this.clock = clock;
	}

	@GetMapping("/setup/import")
	ModelAndView show() {
		return withLast(new ModelAndView("exchange/import", "form", ImportForm.empty()));
	}

	/** How far it is now, for a page that watches. */
	@HxGet("/setup/import")
	ModelAndView showState() {
		return withLast(new ModelAndView("exchange/import :: state", "form", ImportForm.empty()));
	}

	@PostMapping("/setup/import")
	ModelAndView start(@ModelAttribute("form") ImportForm form, BindingResult errors) throws IOException {
		if (!errors.hasErrors()) {
			take(form, errors);
		}
		if (errors.hasErrors()) {
			return withLast(new ModelAndView("exchange/import", errors.getModel(), HttpStatus.UNPROCESSABLE_CONTENT));
		}
		return new ModelAndView("redirect:/setup/import");
	}

	private void take(ImportForm form, BindingResult errors) throws IOException {
		MultipartFile bundle = form.bundle();
		if (bundle == null || bundle.isEmpty()) {
			errors.rejectValue("bundle", "exchange.import.bundle.missing");
			return;
		}
		if (!isNamedAsOne(bundle)) {
			errors.rejectValue("bundle", "exchange.import.bundle.no-zip");
			return;
		}
		Path upload = this.passing.create(".zip");
		boolean started = false;
		try {
			bundle.transferTo(upload);
			started = this.jobs.start(upload, Boolean.TRUE.equals(form.update()));
		}
		finally {
			if (!started) {
				Files.delete(upload);
			}
		}
		if (!started) {
			errors.reject("exchange.import.running");
		}
	}

	/*
	 * What is in it is read later; the name of a file only keeps somebody from waiting
	 * for that.
	 */
	private static boolean isNamedAsOne(MultipartFile bundle) {
		var name = bundle.getOriginalFilename();
		return name == null || name.isEmpty() || name.toLowerCase(Locale.ROOT).endsWith(".zip");
	}

	@GetMapping("/setup/import/{job}/problems.csv")
	void problems(@PathVariable UUID job, HttpServletResponse response) throws IOException {
		ProblemReport problems = this.jobs.last()
			.filter((last) -> last.id().equals(job))
			.map(ImportJob::state)
			.filter((state) -> state instanceof ImportJob.Ended)
			.map((state) -> ((ImportJob.Ended) state).result())
			.filter((result) -> result instanceof ImportResult.Refused)
			.map((result) -> ((ImportResult.Refused) result).problems())
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
		response.setContentType("text/csv;charset=UTF-8");
		response.setHeader(HttpHeaders.CONTENT_DISPOSITION,
				ContentDisposition.attachment().filename("import-problems.csv").build().toString());
		OutputStream out = response.getOutputStream();
		ProblemCsv.write(problems, out);
	}

	private ModelAndView withLast(ModelAndView page) {
		this.jobs.last().ifPresent((job) -> page.addObject("last", ImportPage.of(job, this.clock.getZone())));
		return page;
	}

}
