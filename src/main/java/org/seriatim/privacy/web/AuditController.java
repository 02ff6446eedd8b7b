package org.seriatim.privacy.web;

import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.AuditTrail;
import org.seriatim.access.AuditTrail.Place;
import org.seriatim.access.AuditTrail.Row;
import org.seriatim.access.AuditTrail.Wanted;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.privacy.domain.RecordNumbers;
import org.seriatim.shell.Choice;
import org.seriatim.shell.ReportCell;
import org.seriatim.shell.Written;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.util.UriComponentsBuilder;

/**
 * Setup: how the audit log stands, and who did what. What is looked for is sent, and only
 * ids of ours come into an address.
 */
@Controller
class AuditController {

	private static final int ROWS = 50;

	/** As pages write times, to the second. */
	private static final DateTimeFormatter SECOND = DateTimeFormatter.ofPattern("d MMM uuuu, HH:mm:ss", Locale.ENGLISH);

	/** Days beyond are nobody's; the database could not even hold some of them. */
	private static final LocalDate FIRST = LocalDate.of(1970, 1, 1);

	private static final LocalDate LAST = LocalDate.of(2999, 12, 31);

	private static final CSVFormat CSV = CSVFormat.RFC4180.builder()
		.setHeader("id", "at", "staff", "action", "kind", "entry", "record_number", "patient", "detail", "origin",
				"origin_id", "command", "address", "emergency_access")
		.get();

	private final AuditTrail trail;

	private final AuditLog audit;

	private final StaffDirectory staff;

	private final PatientDirectory patients;

	private final RecordNumbers numbers;

	private final Clock clock;

	AuditController(AuditTrail trail, AuditLog audit, StaffDirectory staff, PatientDirectory patients,
			RecordNumbers numbers, Clock clock) {
		this.trail = trail;
		this.audit = audit;
		this.staff = staff;
		this.patients = patients;
		this.numbers = numbers;
		this.clock = clock;
	}

	/** What an address or a form asks for, by ids. */
	record Asked(@Nullable StaffId staff, @Nullable UUID patient, @Nullable Action done, @Nullable String entryKind,
			@Nullable LocalDate from, @Nullable LocalDate until) {
	}

	/**
	 * One line of the list.
	 *
	 * @param recordNumber none where no patient is concerned, or the record is erased
	 * @param way message key of the way in, if it is known
	 */
	record Line(String at, @Nullable String staff, String action, String kind, @Nullable String recordNumber,
			@Nullable UUID patient, @Nullable String detail, @Nullable String way, @Nullable String command,
			@Nullable String address, boolean emergency) {
	}

	/** How the log stands, in words. */
	record Standing(long sealed, @Nullable String sealedAt, long waiting, boolean endMissing,
			@Nullable String verifiedAt, @Nullable String verified, boolean intact) {
	}

	@GetMapping("/setup/audit")
	ModelAndView show(Asked asked, @RequestParam(required = false) @Nullable Long beforeAt,
			@RequestParam(required = false) @Nullable Long beforeId) {
		var before = (beforeAt != null && beforeId != null)
				? new Place(Instant.EPOCH.plus(Math.max(0, beforeAt), ChronoUnit.MICROS), beforeId) : null;
		var rows = this.trail.newest(wanted(asked), clamped(before), ROWS + 1);
		var shown = rows.subList(0, Math.min(ROWS, rows.size()));
		var numbers = this.numbers.of(shown.stream().map(Row::patient).filter(Objects::nonNull).distinct().toList());
		var form = new AuditForm(asked.staff(),
				(asked.patient() != null) ? this.patients.byId(new PatientId(asked.patient()))
					.map((patient) -> patient.recordNumber())
					.orElse(asked.patient().toString()) : null,
				asked.done(), asked.entryKind(), asked.from(), asked.until());
		return page(form, HttpStatus.OK).addObject("lines", shown.stream().map((row) -> line(row, numbers)).toList())
			.addObject("asked", asked)
			.addObject("later", before != null)
			.addObject("newest", address(asked).toUriString())
			.addObject("older", (rows.size() > ROWS) ? older(asked, shown.get(ROWS - 1)) : null);
	}

	@PostMapping("/setup/audit")
	ModelAndView search(@Valid @ModelAttribute("form") AuditForm form, BindingResult errors) {
		var patient = patient(form.whose());
		if (form.whose() != null && patient.isEmpty() && !errors.hasFieldErrors("whose")) {
			errors.rejectValue("whose", "privacy.audit.whose.unknown");
		}
		if (outside(form.from())) {
			errors.rejectValue("from", "privacy.audit.day.outside");
		}
		if (outside(form.until())) {
			errors.rejectValue("until", "privacy.audit.day.outside");
		}
		else if (form.from() != null && form.until() != null && form.until().isBefore(form.from())) {
			errors.rejectValue("until", "privacy.audit.until.before");
		}
		if (errors.hasErrors()) {
			return page(form, HttpStatus.UNPROCESSABLE_CONTENT);
		}
		return new ModelAndView("redirect:" + address(
				new Asked(form.staff(), patient.orElse(null), form.done(), form.entryKind(), form.from(), form.until()))
			.toUriString());
	}

	@PostMapping("/setup/audit.csv")
	void download(Asked asked, HttpServletResponse response) throws IOException {
		this.audit.record(Action.EXPORTED, "audit_log", null, asked.patient());
		response.setContentType(new MediaType("text", "csv", StandardCharsets.UTF_8).toString());
		response.setHeader(HttpHeaders.CONTENT_DISPOSITION,
				ContentDisposition.attachment().filename("seriatim-audit-log.csv").build().toString());
		var writer = new OutputStreamWriter(response.getOutputStream(), StandardCharsets.UTF_8);
		// spreadsheets take a CSV file without one for some other encoding
		writer.write('\uFEFF');
		var csv = new CSVPrinter(writer, CSV);
		var known = new HashMap<UUID, String>();
		try {
			this.trail.each(wanted(asked), (row) -> write(csv, row, known));
		}
		catch (UncheckedIOException ex) {
			throw ex.getCause();
		}
		csv.flush();
	}

	private void write(CSVPrinter csv, Row row, Map<UUID, String> known) {
		var number = (row.patient() == null) ? ""
				: known.computeIfAbsent(row.patient(), (id) -> this.numbers.of(List.of(id)).getOrDefault(id, ""));
		try {
			csv.printRecord(row.id(),
					DateTimeFormatter.ISO_OFFSET_DATE_TIME.format(row.at().atZone(this.clock.getZone())),
					cell(row.staff()), word(row.action()), row.kind(), row.entry(), cell(number), row.patient(),
					cell(row.detail()), row.origin(), row.originId(), cell(row.command()), cell(row.address()),
					row.emergency());
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static @Nullable String cell(@Nullable String text) {
		return (text != null) ? ReportCell.text(text) : null;
	}

	private Optional<UUID> patient(@Nullable String whose) {
		if (whose == null) {
			return Optional.empty();
		}
		return this.patients.byRecordNumber(whose.strip())
			.map((patient) -> patient.id().value())
			.or(() -> idIn(whose.strip()));
	}

	/* An erased record has no number any more; the register of erasures names its id. */
	private static Optional<UUID> idIn(String text) {
		try {
			return Optional.of(UUID.fromString(text)).filter((id) -> id.toString().equalsIgnoreCase(text));
		}
		catch (IllegalArgumentException ex) {
			return Optional.empty();
		}
	}

	private Wanted wanted(Asked asked) {
		var kind = Optional.ofNullable(asked.entryKind()).filter(this.trail.kinds()::contains).orElse(null);
		var from = Optional.ofNullable(asked.from()).filter((day) -> !outside(day));
		var until = Optional.ofNullable(asked.until()).filter((day) -> !outside(day)).map((day) -> day.plusDays(1));
		return new Wanted(asked.staff(), asked.patient(), asked.done(), kind, from.map(this::begin).orElse(null),
				until.map(this::begin).orElse(null));
	}

	private Instant begin(LocalDate day) {
		return day.atStartOfDay(this.clock.getZone()).toInstant();
	}

	private static boolean outside(@Nullable LocalDate day) {
		return day != null && (day.isBefore(FIRST) || day.isAfter(LAST));
	}

	private @Nullable Place clamped(@Nullable Place place) {
		var last = begin(LAST);
		return (place != null && place.at().isAfter(last)) ? new Place(last, place.id()) : place;
	}

	private ModelAndView page(AuditForm form, HttpStatus status) {
		var state = this.trail.state();
		return new ModelAndView("privacy/audit", status).addObject("form", form)
			.addObject("standing",
					new Standing(state.sealed(), time(state.sealedAt()), state.waiting(), state.endMissing(),
							time(state.verifiedAt()), state.verified(), state.intact()))
			.addObject("people",
					this.staff.all()
						.stream()
						.map((member) -> new Choice(member.id().toString(), member.name()))
						.toList())
			.addObject("deeds", Choice.ofWords("privacy.audit.action", Arrays.asList(Action.values())))
			.addObject("kinds",
					this.trail.kinds().stream().map((kind) -> new Choice(kind, kind.replace('_', ' '))).toList());
	}

	private Line line(Row row, Map<UUID, String> numbers) {
		return new Line(SECOND.format(row.at().atZone(this.clock.getZone())), row.staff(), word(row.action()),
				row.kind().replace('_', ' '), numbers.get(row.patient()), row.patient(), row.detail(),
				(row.origin() != null) ? "privacy.audit.origin." + row.origin() : null, row.command(), row.address(),
				row.emergency() != null);
	}

	private @Nullable String time(@Nullable Instant at) {
		return (at != null) ? Written.time(at, this.clock.getZone()) : null;
	}

	private static String word(Action action) {
		return action.name().toLowerCase(Locale.ROOT);
	}

	private static UriComponentsBuilder address(Asked asked) {
		var address = UriComponentsBuilder.fromPath("/setup/audit");
		Optional.ofNullable(asked.staff()).ifPresent((staff) -> address.queryParam("staff", staff));
		Optional.ofNullable(asked.patient()).ifPresent((patient) -> address.queryParam("patient", patient));
		Optional.ofNullable(asked.done()).ifPresent((action) -> address.queryParam("done", word(action)));
		Optional.ofNullable(asked.entryKind())
			.filter((kind) -> kind.matches("[a-z_]+"))
			.ifPresent((kind) -> address.queryParam("entryKind", kind));
		Optional.ofNullable(asked.from()).ifPresent((day) -> address.queryParam("from", day));
		Optional.ofNullable(asked.until()).ifPresent((day) -> address.queryParam("until", day));
		return address;
	}

	private static String older(Asked asked, Row last) {
		return address(asked).queryParam("beforeAt", ChronoUnit.MICROS.between(Instant.EPOCH, last.at()))
			.queryParam("beforeId", last.id())
			.toUriString();
	}

}
