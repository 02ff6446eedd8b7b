package org.seriatim.backup.web;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicReference;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.FirstVisit;
import org.seriatim.backup.domain.BackupRefused;
import org.seriatim.backup.domain.BackupRefused.Reason;
import org.seriatim.backup.domain.Passphrase;
import org.seriatim.backup.domain.RestoreBackup;
import org.seriatim.database.OneServiceAtATime;
import org.seriatim.shell.PassingFiles;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;

/**
 * The other way in which a first visit can go: a clinic that has lost its machine brings
 * its backup back. Like the first administrator it needs the code that the console shows.
 */
@Controller
@ConditionalOnWebApplication
class RestoreController {

	private static final String VIEW = "backup/restore";

	private final FirstVisit visit;

	private final RestoreBackup restore;

	private final OneServiceAtATime services;

	private final PassingFiles passing;

	private final Clock clock;

	RestoreController(FirstVisit visit, RestoreBackup restore, OneServiceAtATime services, PassingFiles passing,
			Clock clock) {
		this.visit = visit;
		this.restore = restore;
		this.services = services;
		this.passing = passing;
		this.clock = clock;
	}

	@GetMapping("/set-up/restore")
	ModelAndView ask() {
		return this.visit.isAwaited() ? new ModelAndView(VIEW, "form", RestoreForm.empty())
				: new ModelAndView("redirect:/sign-in");
	}

	@PostMapping("/set-up/restore")
	ModelAndView restore(@Valid @ModelAttribute("form") RestoreForm form, BindingResult errors,
			HttpServletRequest request, HttpServletResponse response) {
		var answer = new AtomicReference<>(new ModelAndView("redirect:/sign-in"));
		// as for the first administrator: of two visitors at once one is let in
		this.services.run(FirstVisit.WORK, () -> {
			if (this.visit.isAwaited()) {
				answer.set(answer(form, errors, request, response));
			}
		});
		return answer.get();
	}

	private ModelAndView answer(RestoreForm form, BindingResult errors, HttpServletRequest request,
			HttpServletResponse response) {
		if (form.backup() == null || form.backup().isEmpty()) {
			errors.rejectValue("backup", "backup.restore.file.missing");
		}
		if (form.code() != null) {
			check(form.code(), request, errors, response);
		}
		if (!errors.hasErrors()) {
			var restored = restored(Objects.requireNonNull(form.backup()), Objects.requireNonNull(form.passphrase()),
					errors);
			if (restored != null) {
				return restored;
			}
		}
		boolean early = response.containsHeader(HttpHeaders.RETRY_AFTER);
		return new ModelAndView(VIEW, errors.getModel(),
				early ? HttpStatus.TOO_MANY_REQUESTS : HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private void check(String code, HttpServletRequest request, BindingResult errors, HttpServletResponse response) {
		var answer = this.visit.answer(code, request.getRemoteAddr());
		if (answer.secondsToWait() > 0) {
			response.setHeader(HttpHeaders.RETRY_AFTER, Long.toString(answer.secondsToWait()));
			errors.reject("access.wait.seconds", new Object[] { answer.secondsToWait() }, null);
		}
		else if (!answer.right()) {
			errors.rejectValue("code", "access.set-up.code.wrong");
		}
	}

	private @Nullable ModelAndView restored(MultipartFile upload, CharSequence passphrase, BindingResult errors) {
		try {
			Path file = this.passing.create(".backup");
			try {
				return restored(upload, file, passphrase);
			}
			finally {
				Files.deleteIfExists(file);
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		catch (BackupRefused ex) {
			if (ex.reason() == Reason.WRONG_PASSPHRASE) {
				errors.rejectValue("passphrase", "backup.restore.passphrase.wrong");
			}
			else {
				errors.rejectValue("backup", "backup.restore.refused", new Object[] { ex.getMessage() }, null);
			}
			return null;
		}
	}

	private ModelAndView restored(MultipartFile upload, Path file, CharSequence passphrase) throws IOException {
		upload.transferTo(file);
		var restored = this.restore.from(file, Passphrase.of(passphrase));
		return new ModelAndView("backup/restored", "rows", restored.contents().rows())
			.addObject("files", restored.contents().files())
			.addObject("madeAt", Written.time(restored.contents().madeAt(), this.clock.getZone()))
			.addObject("sameKey", restored.sameKey());
	}

}
