package org.seriatim.appointment.web;

import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.HexFormat;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Sha256;
import org.seriatim.access.StaffId;
import org.seriatim.appointment.AppointmentId;
import org.seriatim.appointment.domain.CalendarFeeds;
import org.seriatim.appointment.domain.Diary;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.shell.Written;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.CacheControl;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/**
 * Calendars: a practitioner's own under a secret address, and one appointment as a file.
 */
@Controller
@ConditionalOnWebApplication
class CalendarController {

	private static final MediaType CALENDAR = new MediaType("text", "calendar", StandardCharsets.UTF_8);

	private final CalendarFeeds feeds;

	private final Diary diary;

	private final PatientDirectory patients;

	private final CurrentStaff staff;

	private final Clock clock;

	CalendarController(CalendarFeeds feeds, Diary diary, PatientDirectory patients, CurrentStaff staff, Clock clock) {
		this.feeds = feeds;
		this.diary = diary;
		this.patients = patients;
		this.staff = staff;
		this.clock = clock;
	}

	@GetMapping("/account/calendar")
	ModelAndView show() {
		return page(null);
	}

	/** The address is on this one answer and nowhere else. */
	@PostMapping("/account/calendar")
	ModelAndView make() {
		var token = this.feeds.make(self());
		return page(ServletUriComponentsBuilder.fromCurrentContextPath()
			.path("/calendar/{token}.ics")
			.build(token)
			.toString());
	}

	@PostMapping("/account/calendar/revoke")
	String revoke(RedirectAttributes flash) {
		this.feeds.revoke(self());
		flash.addFlashAttribute("notice", "appointment.calendar.revoked");
		return "redirect:/account/calendar";
	}

	private ModelAndView page(@Nullable String made) {
		return new ModelAndView("appointment/calendar").addObject("made", made)
			.addObject("madeAt",
					this.feeds.madeAt(self()).map((at) -> Written.time(at, this.clock.getZone())).orElse(null));
	}

	private StaffId self() {
		return this.staff.id().orElseThrow(() -> new ResponseStatusException(HttpStatus.FORBIDDEN));
	}

	/** An unchanged calendar is answered by its tag alone. */
	@GetMapping("/calendar/{token}.ics")
	ResponseEntity<byte[]> feed(@PathVariable String token) {
		var file = this.feeds.under(token)
			.orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND))
			.getBytes(StandardCharsets.UTF_8);
		return ResponseEntity.ok()
			.contentType(CALENDAR)
			.eTag(tag(file))
			.cacheControl(CacheControl.noCache().cachePrivate())
			.body(file);
	}

	@GetMapping("/appointments/{appointment}/calendar.ics")
	ResponseEntity<byte[]> file(@PathVariable AppointmentId appointment) {
		var one = this.diary.byId(appointment).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
		this.patients.open(one.patient());
		return ResponseEntity.ok()
			.contentType(CALENDAR)
			.header(HttpHeaders.CONTENT_DISPOSITION,
					ContentDisposition.attachment().filename("appointment.ics").build().toString())
			.body(this.feeds.forPatient(one).getBytes(StandardCharsets.UTF_8));
	}

	private static String tag(byte[] file) {
		return "\"" + HexFormat.of().formatHex(Sha256.of(file)) + "\"";
	}

}
