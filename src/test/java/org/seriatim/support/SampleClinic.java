package org.seriatim.support;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffId;
import org.seriatim.assessment.DepthMethod;
import org.seriatim.assessment.RatedDepth;
import org.seriatim.assessment.RatedScar;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.RepeatedRatings;
import org.seriatim.assessment.ScarId;
import org.seriatim.assessment.ScarRating;
import org.seriatim.assessment.ScarType;
import org.seriatim.finding.ContactFacts;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.FindingFacts;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.LumpCurve;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.ObservationFacts;
import org.seriatim.followup.SeriesFacts;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.SkinThickness;
import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SeriesStatus;
import org.seriatim.treatment.SessionFacts;
import org.seriatim.treatment.SessionId;

/**
 * The invented clinic of {@code src/test/resources/sample-clinic}, read straight from its
 * files into facts, so that the computations can be checked without a database.
 */
public final class SampleClinic {

	/** The facts of one series and whose it is. */
	public record PatientSeries(String recordNumber, PatientId patient, SeriesFacts facts) {
	}

	private final Map<String, List<FindingFacts>> findings = new HashMap<>();

	private final Map<String, List<SessionFacts>> sessions = new HashMap<>();

	private final Map<String, List<RatedScar>> scars = new LinkedHashMap<>();

	private final List<PatientSeries> series = new ArrayList<>();

	private final List<RatedDepth> depths = new ArrayList<>();

	private SampleClinic() {
	}

	public static SampleClinic read() {
		var clinic = new SampleClinic();
		clinic.readScars();
		clinic.readSessions();
		clinic.readFindings();
		clinic.readSeries();
		return clinic;
	}

	public List<PatientSeries> series() {
		return this.series;
	}

	/** All lumps as they were known on a day, by patient. */
	public List<LumpCurve.OfPatient> lumps(LocalDate day) {
		var lumps = new ArrayList<LumpCurve.OfPatient>();
		this.findings.forEach((recordNumber, ofPatient) -> {
			var days = this.sessions.get(recordNumber)
				.stream()
				.collect(Collectors.toMap(SessionFacts::id, SessionFacts::treatedOn));
			ofPatient.stream()
				.filter((finding) -> finding.isLump() && !finding.firstNotedOn().isAfter(day))
				.map((finding) -> LumpDuration.of(finding.asOf(day), days.get(finding.session())))
				.forEach((lump) -> lumps.add(new LumpCurve.OfPatient(patient(recordNumber), lump)));
		});
		return lumps;
	}

	/** Injections of the session that a lump belongs to. */
	public List<InjectionFacts> injections(FindingFacts lump) {
		return this.sessions.values()
			.stream()
			.flatMap(List::stream)
			.filter((session) -> session.id().equals(lump.session()))
			.findFirst()
			.orElseThrow()
			.injections();
	}

	public RepeatedRatings ratings(LocalDate day) {
		return RepeatedRatings.among(this.depths.stream().filter((depth) -> !depth.assessedOn().isAfter(day)).toList());
	}

	private void readScars() {
		var ratings = byPatientAnd("scar_assessments.csv", "scar_label",
				(row) -> new ScarRating(date(row, "assessed_on"), decimal(row, "depth_mm"),
						value(row, "depth_method", DepthMethod.class), whole(row, "severity")));
		for (var row : rows("scars.csv")) {
			var recordNumber = row.get("record_number");
			var label = row.get("scar_label");
			this.scars.computeIfAbsent(recordNumber, (key) -> new ArrayList<>())
				.add(new RatedScar(scar(recordNumber, label), label, value(row, "region", Region.class),
						value(row, "type", ScarType.class),
						ratings.getOrDefault(recordNumber + "/" + label, List.of())));
		}
		for (var row : rows("scar_assessments.csv")) {
			var depth = decimal(row, "depth_mm");
			if (depth != null) {
				this.depths.add(new RatedDepth(patient(row.get("record_number")),
						scar(row.get("record_number"), row.get("scar_label")), date(row, "assessed_on"),
						new StaffId(id("staff", row.get("assessor"))), row.get("repeat").equals("1"), depth,
						value(row, "depth_method", DepthMethod.class)));
			}
		}
	}

	private void readSessions() {
		var injections = byPatientAnd("injections.csv", "session_number",
				(row) -> new InjectionFacts(value(row, "region", Region.class),
						row.get("scar_label").isEmpty() ? null : scar(row.get("record_number"), row.get("scar_label")),
						value(row, "layer", Layer.class), whole(row, "points"), decimal(row, "volume_ml"),
						whole(row, "pain_nrs")));
		for (var row : rows("sessions.csv")) {
			var recordNumber = row.get("record_number");
			var number = row.get("session_number");
			this.sessions.computeIfAbsent(recordNumber, (key) -> new ArrayList<>())
				.add(new SessionFacts(session(recordNumber, number), seriesId(recordNumber, row.get("series")),
						Integer.parseInt(number), date(row, "treated_on"), whole(row, "pain_nrs"),
						injections.getOrDefault(recordNumber + "/" + number, List.of())));
		}
	}

	private void readFindings() {
		Map<String, List<ObservationFacts>> observations = rows("finding_observations.csv").stream()
			.collect(Collectors.groupingBy((row) -> row.get("finding"),
					Collectors.mapping((row) -> new ObservationFacts(date(row, "observed_on"), yes(row, "present")),
							Collectors.toList())));
		for (var row : rows("findings.csv")) {
			var recordNumber = row.get("record_number");
			var label = row.get("scar_label");
			var number = row.get("session_number");
			this.findings.computeIfAbsent(recordNumber, (key) -> new ArrayList<>())
				.add(new FindingFacts(new FindingId(id("finding", row.get("finding"))),
						number.isEmpty() ? null : session(recordNumber, number), value(row, "kind", FindingKind.class),
						value(row, "region", Region.class), label.isEmpty() ? null : scar(recordNumber, label),
						label.isEmpty() ? null : label, date(row, "first_noted_on"), whole(row, "grade"),
						yes(row, "serious"), dateOrNone(row, "gone_on"), dateOrNone(row, "closed_on"),
						observations.getOrDefault(row.get("finding"), List.of())));
		}
	}

	private void readSeries() {
		Map<String, @Nullable SkinThickness> skin = new HashMap<>();
		rows("patients.csv")
			.forEach((row) -> skin.put(row.get("record_number"), value(row, "skin_thickness", SkinThickness.class)));
		Map<String, List<LocalDate>> assessed = new HashMap<>();
		for (var file : List.of("scar_assessments.csv", "pore_assessments.csv", "global_assessments.csv")) {
			rows(file).forEach((row) -> assessed.computeIfAbsent(row.get("record_number"), (key) -> new ArrayList<>())
				.add(date(row, "assessed_on")));
		}
		Map<String, List<ContactFacts>> contacts = rows("contacts.csv").stream()
			.collect(Collectors.groupingBy((row) -> row.get("record_number"), Collectors
				.mapping((row) -> new ContactFacts(session(row.get("record_number"), row.get("session_number")),
						date(row, "contacted_on"), Objects.requireNonNull(value(row, "outcome", ContactOutcome.class)),
						row.get("lumps_present").isEmpty() ? null : yes(row, "lumps_present")), Collectors.toList())));
		for (var row : rows("series.csv")) {
			var recordNumber = row.get("record_number");
			this.series.add(new PatientSeries(recordNumber, patient(recordNumber), new SeriesFacts(
					seriesId(recordNumber, row.get("series")),
					Objects.requireNonNull(value(row, "status", SeriesStatus.class)), dateOrNone(row, "ended_on"),
					skin.get(recordNumber), this.sessions.getOrDefault(recordNumber, List.of()),
					this.findings.getOrDefault(recordNumber, List.of()), contacts.getOrDefault(recordNumber, List.of()),
					this.scars.getOrDefault(recordNumber, List.of()), assessed.getOrDefault(recordNumber, List.of()))));
		}
	}

	private static <T> Map<String, List<T>> byPatientAnd(String file, String column, Function<CSVRecord, T> value) {
		return rows(file).stream()
			.collect(Collectors.groupingBy((row) -> row.get("record_number") + "/" + row.get(column),
					Collectors.mapping(value, Collectors.toList())));
	}

	private static List<CSVRecord> rows(String file) {
		var format = CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();
		var resource = Objects.requireNonNull(SampleClinic.class.getResourceAsStream("/sample-clinic/" + file), file);
		try (var reader = new InputStreamReader(resource, StandardCharsets.UTF_8); var parser = format.parse(reader)) {
			return parser.getRecords();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static LocalDate date(CSVRecord row, String column) {
		return LocalDate.parse(row.get(column));
	}

	private static @Nullable LocalDate dateOrNone(CSVRecord row, String column) {
		return row.get(column).isEmpty() ? null : date(row, column);
	}

	private static boolean yes(CSVRecord row, String column) {
		return row.get(column).equals("yes");
	}

	private static @Nullable Integer whole(CSVRecord row, String column) {
		return row.get(column).isEmpty() ? null : Integer.valueOf(row.get(column));
	}

	private static @Nullable Double decimal(CSVRecord row, String column) {
		return row.get(column).isEmpty() ? null : Double.valueOf(row.get(column));
	}

	private static <E extends Enum<E>> @Nullable E value(CSVRecord row, String column, Class<E> type) {
		return row.get(column).isEmpty() ? null : Enum.valueOf(type, row.get(column).toUpperCase(Locale.ROOT));
	}

	private static PatientId patient(String recordNumber) {
		return new PatientId(id("patient", recordNumber));
	}

	private static SessionId session(String recordNumber, String number) {
		return new SessionId(id("session", recordNumber, number));
	}

	private static SeriesId seriesId(String recordNumber, String number) {
		return new SeriesId(id("series", recordNumber, number));
	}

	private static ScarId scar(String recordNumber, String label) {
		return new ScarId(id("scar", recordNumber, label));
	}

	private static UUID id(String... natural) {
		return UUID.nameUUIDFromBytes(String.join("/", natural).getBytes(StandardCharsets.UTF_8));
	}

}
