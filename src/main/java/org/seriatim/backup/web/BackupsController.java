package org.seriatim.backup.web;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.stream.Collectors;

import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.backup.domain.BackupFolder;
import org.seriatim.backup.domain.BackupJobs;
import org.seriatim.backup.domain.BackupSettings;
import org.seriatim.backup.domain.BackupState;
import org.seriatim.backup.domain.Passphrases;
import org.seriatim.shell.HxGet;
import org.seriatim.shell.Written;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.support.TransactionOperations;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Setup: how old the last good backup is, what became of each, and for administrators a
 * backup now and the files.
 */
@Controller
class BackupsController {

	/** Longer than most take; who waits sees at once what came of it. */
	private static final Duration PATIENCE = Duration.ofSeconds(20);

	private final BackupState state;

	private final BackupJobs jobs;

	private final BackupFolder folder;

	private final BackupSettings settings;

	private final Passphrases passphrases;

	private final CurrentStaff current;

	private final AuditLog audit;

	private final TransactionOperations transactions;

	private final Clock clock;

	BackupsController(BackupState state, BackupJobs jobs, BackupFolder folder, BackupSettings settings,
			Passphrases passphrases, CurrentStaff current, AuditLog audit, TransactionOperations transactions,
			Clock clock) {
		this.state = state;
		this.jobs = jobs;
		this.folder = folder;
		this.settings = settings;
		this.passphrases = passphrases;
		this.current = current;
		this.audit = audit;
		this.transactions = transactions;
		this.clock = clock;
	}

	@GetMapping(BackupPages.PATH)
	ModelAndView show() {
		return page("backup/backups");
	}

	/** How far it is now, for a page that watches. */
	@HxGet(BackupPages.PATH)
	ModelAndView showState() {
		return page("backup/backups :: state");
	}

	@PostMapping(BackupPages.PATH)
	String make(RedirectAttributes flash) {
		if (!this.passphrases.isConfigured()) {
			flash.addFlashAttribute("problem", "backup.no-passphrase");
		}
		else if (!this.jobs.start(PATIENCE)) {
			flash.addFlashAttribute("problem", "backup.running");
		}
		return "redirect:" + BackupPages.PATH;
	}

	@PostMapping("/setup/backups/download")
	void download(@RequestParam @Nullable String file, HttpServletResponse response) throws IOException {
		Path backup = this.folder.file(String.valueOf(file))
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
		String name = backup.getFileName().toString();
		this.transactions
			.executeWithoutResult((status) -> this.audit.record(AuditLog.Action.EXPORTED, "backup", null, null, name));
		response.setContentType(MediaType.APPLICATION_OCTET_STREAM_VALUE);
		response.setHeader(HttpHeaders.CONTENT_DISPOSITION,
				ContentDisposition.attachment().filename(name).build().toString());
		response.setContentLengthLong(Files.size(backup));
		Files.copy(backup, response.getOutputStream());
	}

	private ModelAndView page(String view) {
		var zone = this.clock.getZone();
		var lastGood = this.state.lastGood();
		var runs = this.state.lastRuns();
		boolean administrator = this.current.roles().contains(Role.ADMINISTRATOR);
		var page = new BackupsPage(lastGood.map((at) -> Written.time(at, zone)).orElse(null),
				lastGood.map(this.state::age).map(Age::of).orElse(null),
				this.jobs.runningSince().map((at) -> Written.time(at, zone)).orElse(null),
				this.jobs.isRunningElsewhere(), runs.isEmpty() ? null : runs.get(0).reason(),
				runs.stream().map((run) -> BackupsPage.Run.of(run, zone)).toList(),
				administrator ? this.folder.list().stream().map((one) -> BackupsPage.Stored.of(one, zone)).toList()
						: List.of());
		return new ModelAndView(view, "page", page).addObject("administrator", administrator)
			.addObject("configured", this.passphrases.isConfigured())
			.addObject("folder", this.folder.path().toString())
			.addObject("times", this.settings.at().stream().map(Object::toString).collect(Collectors.joining(", ")))
			.addObject("settings", this.settings);
	}

}
