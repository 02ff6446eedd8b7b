package org.seriatim.demo.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;

import org.seriatim.assessment.Region;
import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.ScarType;
import org.seriatim.demo.domain.InventedClinic.Practitioner;
import org.seriatim.treatment.Layer;

/**
 * One invented patient: enrols, is treated, is asked, is assessed, and so fills the
 * clinic's files.
 */
final class InventedPatient {

	private static final String[] GIVEN = { "Ada", "Bela", "Ciro", "Dunja", "Edda", "Falk", "Greta", "Hani", "Imre",
			"Jola", "Kiran", "Lale", "Milo", "Nuria", "Odile", "Pavel", "Quirin", "Rosa", "Selma", "Tarek", "Uta",
			"Vesna", "Wanja", "Yara", "Zoë", "Élodie", "Søren", "Łucja" };

	private static final String[] FAMILY = { "Abendroth", "Birkeland", "Czerny", "Dragović", "Eskelinen", "Fauré",
			"Grünwald", "Hakimi", "Ilvonen", "Jørstad", "Kaplanek", "Lindqvist", "Møllerud", "Novarese", "Ólafsdal",
			"Păunescu", "Quintero-Lys", "Rautavaara", "Sørensby", "Tamburini", "Ueberbach", "Väänänen", "Wiśnik",
			"Yıldıray", "Zerbst", "O'Carrolan" };

	private static final List<Region> CHEEKS = List.of(Region.CHEEK_MEDIAL_LEFT, Region.CHEEK_MEDIAL_RIGHT,
			Region.CHEEK_LATERAL_LEFT, Region.CHEEK_LATERAL_RIGHT);

	private static final List<Region> OTHERS = List.of(Region.NOSE, Region.FOREHEAD, Region.TEMPLE_LEFT,
			Region.TEMPLE_RIGHT, Region.CHIN, Region.GLABELLA, Region.PERIORAL, Region.NASOLABIAL_LEFT,
			Region.NASOLABIAL_RIGHT, Region.JAWLINE_LEFT, Region.JAWLINE_RIGHT);

	/** Spread of a reading around the true depth, on the logarithmic scale. */
	private static final double READING_ERROR = 0.07;

	/** Scale of the duration of lumps in the mid dermis (Weibull, shape 1.15). */
	private static final double LUMP_DAYS = 5;

	private static final int[] CONTACT_DAYS = { 1, 3, 7, 15 };

	private final InventedClinic clinic;

	private final RandomGenerator random;

	private final int number;

	private final String recordNumber;

	private final Story story;

	private final Practitioner practitioner;

	private final int phototype;

	private final String thickness;

	private final String depthMethod;

	private final boolean countedWhole;

	private final List<Region> regions = new ArrayList<>();

	private final List<InventedScar> scars = new ArrayList<>();

	private final List<InventedLump> openLumps = new ArrayList<>();

	private int session;

	InventedPatient(InventedClinic clinic, int number, RandomGenerator random) {
		this.clinic = clinic;
		this.random = random;
		this.number = number;
		this.recordNumber = "D-%05d".formatted(number);
		this.story = clinic.planted().everyCourse() ? Story.of(number) : Story.USUAL;
		this.practitioner = pickPractitioner();
		this.phototype = 1 + Math.min(5, (int) Math.abs(Math.round(random.nextGaussian() * 1.1 + 2.2)));
		this.thickness = pick("thin", "medium", "medium", "thick");
		this.depthMethod = chance(0.85) ? "gauge" : "ultrasound";
		this.countedWhole = chance(0.25);
	}

	void live() {
		enrol();
		LocalDate first = Bookings.working(this.clinic.today().minusDays(firstVisitDaysAgo()));
		chooseRegionsAndScars(first);
		int planned = switch (this.story) {
			case PLATEAU -> 5;
			case INFECTION, NODULE, SILENT, LASTING_LUMP, PERSISTENT_LUMP, OVERDUE -> 4;
			default -> 3 + this.random.nextInt(2);
		};
		LocalDate last = series(1, first, planned);
		if (this.story == Story.SECOND_SERIES && last.plusDays(150).isBefore(this.clinic.today())) {
			series(2, Bookings.working(last.plusDays(140 + this.random.nextInt(40))), 3);
		}
	}

	/**
	 * Patients of the open stories have had their last session lately; the others began
	 * at any time.
	 */
	private int firstVisitDaysAgo() {
		return switch (this.story) {
			case INFECTION, LASTING_LUMP -> 80 + this.random.nextInt(6);
			case NODULE, PERSISTENT_LUMP -> 90 + this.random.nextInt(6);
			case PLATEAU -> 176 + this.random.nextInt(8);
			case SILENT -> 4 + this.random.nextInt(22);
			case OVERDUE -> 130 + this.random.nextInt(30);
			case SECOND_SERIES -> 480 + this.random.nextInt(60);
			default -> 6 + this.random.nextInt(InventedClinic.DAYS_OF_RECORDS - 6);
		};
	}

	private void enrol() {
		String family = pick(FAMILY);
		this.clinic.add("patients.csv", "record_number", this.recordNumber, "family_name", family, "given_name",
				pick(GIVEN), "birth_date", this.clinic.today().minusDays(365L * 19 + this.random.nextInt(365 * 36)),
				"sex", pick("female", "female", "male", "", "other"), "phone",
				chance(0.9) ? "+00 555 %04d".formatted(this.random.nextInt(10000)) : "", "email",
				chance(0.75) ? "d%d@clinic.example".formatted(this.number) : "", "phototype", this.phototype,
				"skin_thickness", this.thickness, "sebum", pick("dry", "normal", "combination", "oily", "oily"));
	}

	private void chooseRegionsAndScars(LocalDate day) {
		this.regions.addAll(CHEEKS.subList(0, chance(0.6) ? 4 : 2));
		for (Region other : OTHERS) {
			if (chance(0.16)) {
				this.regions.add(other);
			}
		}
		int wanted = 4 + this.random.nextInt(9);
		for (int index = 1; index <= wanted; index++) {
			Region region = this.regions.get(this.random.nextInt(this.regions.size()));
			ScarType type = pickType();
			double width = switch (type) {
				case ICE_PICK -> uniform(0.6, 1.9);
				case BOXCAR -> uniform(1.6, 4.0);
				case ROLLING -> uniform(4.2, 8.0);
				default -> uniform(0.6, 3.0);
			};
			double length = (type == ScarType.LINEAR || type == ScarType.FOLD) ? uniform(8, 25)
					: width * uniform(1.0, 1.5);
			double depth = Math.min(2.4, typicalDepth(type) * Math.exp(0.35 * this.random.nextGaussian()));
			var scar = new InventedScar("S" + index, region, type, length, width, depth);
			this.scars.add(scar);
			double[] place = placeIn(region);
			this.clinic.add("scars.csv", "record_number", this.recordNumber, "scar_label", scar.label, "region",
					region.word(), "type", type.word(), "map_x", decimal(place[0], 3), "map_y", decimal(place[1], 3),
					"first_recorded_on", day);
		}
	}

	private double[] placeIn(Region region) {

		var centre = FaceMap.centre(region);
		for (int attempt = 0; attempt < 60; attempt++) {
			double x = centre.x() + uniform(-0.12, 0.12);
			double y = centre.y() + uniform(-0.12, 0.12);
			if (FaceMap.contains(region, x, y)) {
				return new double[] { x, y };
			}
		}
		return new double[] { centre.x(), centre.y() };
	}

	/** Runs one series and returns its last day. */
	private LocalDate series(int seriesNumber, LocalDate first, int planned) {
		LocalDate today = this.clinic.today();
		LocalDate day = first;
		LocalDate last = first;
		int held = 0;
		int willing = (this.story == Story.STOPPED) ? 1 + this.random.nextInt(2) : planned;
		int shown = switch (this.story) {
			case INFECTION, NODULE, LASTING_LUMP, PERSISTENT_LUMP, OVERDUE -> 2;
			case PLATEAU -> 4;
			case SILENT -> 1;
			default -> willing;
		};
		assess(day, false);
		while (held < Math.min(willing, shown) && !day.isAfter(today)) {
			if (held > 0) {
				assess(day, true);
				lookAtOpenLumps(day);
			}
			LocalDate longestUntil = treat(seriesNumber, day, held + 1 == shown);
			held++;
			last = day;
			LocalDate earliest = day.plusDays(42);
			day = Bookings.working((longestUntil.plusDays(14).isAfter(earliest) ? longestUntil.plusDays(14) : earliest)
				.plusDays(this.random.nextInt(9)));
			if (this.story == Story.PLATEAU) {
				day = Bookings.working(last.plusDays(44));
			}
			contacts(last, day);
		}
		boolean ended = end(seriesNumber, planned, held, last);
		if (!ended) {
			book(last);
		}
		return last;
	}

	private boolean end(int seriesNumber, int planned, int held, LocalDate last) {
		LocalDate today = this.clinic.today();
		LocalDate outcome = Bookings.working(last.plusDays(86 + this.random.nextInt(20)));
		boolean complete = held >= planned && !outcome.isAfter(today);
		boolean stopped = this.story == Story.STOPPED && last.plusDays(75).isBefore(today);
		String status = complete ? "completed" : stopped ? "stopped" : "open";
		if (complete) {
			assess(outcome, true);
		}
		else if (this.story == Story.PLATEAU && held >= 3) {
			assess(Bookings.working(last.plusDays(30)), true);
		}
		this.clinic.add("series.csv", "record_number", this.recordNumber, "series", seriesNumber, "goal",
				pick("acne scars of the cheeks", "scars and pores", "pores of cheeks and nose",
						"scars before a wedding"),
				"planned_sessions", planned, "status", status, "ended_on",
				complete ? outcome : stopped ? last.plusDays(70) : "", "reason",
				complete ? "goal reached" : stopped ? pick("moved away", "satisfied earlier", "no time") : "");
		return complete || stopped;
	}

	/** Treats and returns the day until which the longest of its lumps lasts. */
	private LocalDate treat(int seriesNumber, LocalDate day, boolean lastShown) {
		this.session++;
		String combination = chance(0.45) ? "rf_after" : chance(0.05) ? "rf_before" : "none";
		boolean massage = chance(0.5);
		this.clinic.add("sessions.csv", "record_number", this.recordNumber, "session_number", this.session, "series",
				seriesNumber, "treated_on", day, "practitioner", this.practitioner.name(), "weight_kg",
				chance(0.8) ? decimal(uniform(48, 96), 1) : "", "combination", combination, "rf_depth_mm",
				combination.equals("none") ? "" : pick("1.0", "1.5", "2.0"), "topical_minutes",
				pick("30", "40", "45", "60"), "oral_analgesic", yesNo(0.3), "vibration", yesNo(0.6), "pain_nrs",
				Math.min(10, Math.max(0, (int) Math.round(3.4 + 1.6 * this.random.nextGaussian()))), "massage",
				massage ? "yes" : "no");
		String lot = lot(day);
		var planted = this.clinic.planted();
		double shortening = combination.equals("rf_after") ? planted.combinedLasts() : 1;
		double lumpiness = planted.lumps() * (lot.equals(InventedClinic.LUMPY_LOT) ? planted.lumpsOfOneLot() : 1);
		BigDecimal injected = BigDecimal.ZERO;
		LocalDate until = day;
		int injection = 0;
		for (Region region : this.regions) {
			int points = 14 + this.random.nextInt(14);
			Layer layer = layer(region, lastShown);
			injection++;
			injected = injected.add(inject(injection, region, "", "pores", layer, points));
			until = later(until, mayRaiseLump(day, region, "", layer, 0.06 * lumpiness, shortening, lastShown));
		}
		for (InventedScar scar : this.scars) {
			Layer layer = layer(scar.region, lastShown);
			injection++;
			injected = injected
				.add(inject(injection, scar.region, scar.label, "scar", layer, 2 + this.random.nextInt(2)));
			until = later(until,
					mayRaiseLump(day, scar.region, scar.label, layer, 0.045 * lumpiness, shortening, lastShown));
			double gain = (this.story == Story.PLATEAU && this.session > 1) ? 0
					: scar.gain() * ((this.session > 2) ? 0.55 : 1) * ((layer == Layer.SUPERFICIAL_DERMIS) ? 0.7 : 1);
			scar.trueMm *= Math.exp(-Math.max(0, gain * (1 + 0.4 * this.random.nextGaussian())));
		}
		prepare(day, lot, injected);
		otherFindings(day, lastShown);
		return until;
	}

	private BigDecimal inject(int injection, Region region, String scar, String target, Layer layer, int points) {
		BigDecimal volume = decimal(points * uniform(0.018, 0.023), 2);
		boolean superficial = layer == Layer.SUPERFICIAL_DERMIS;
		this.clinic.add("injections.csv", "record_number", this.recordNumber, "session_number", this.session,
				"injection", injection, "preparation", 1, "region", region.word(), "scar_label", scar, "target", target,
				"layer", layer.word(), "points", points, "volume_ml", volume, "needle_gauge", 30, "needle_mm", 4,
				"blanching", yesNo(superficial ? 0.95 : 0.85), "bleeding", yesNo(0.7), "base_lifted",
				scar.isEmpty() ? "" : yesNo(0.7), "lump_raised", yesNo(superficial ? 0.3 : 0.05), "second_direction",
				scar.isEmpty() ? "" : yesNo(0.25), "pain_nrs", chance(0.15) ? 4 + this.random.nextInt(4) : "");
		return volume;
	}

	/**
	 * What was prepared adds up, except in a rare session whose remainder nobody wrote
	 * down.
	 */
	private void prepare(LocalDate day, String lot, BigDecimal injected) {
		BigDecimal discarded = decimal(uniform(0.05, 0.3), 2);
		BigDecimal lidocaine = new BigDecimal("0.50");
		BigDecimal drawn = injected.add(discarded)
			.subtract(lidocaine)
			.divide(BigDecimal.valueOf(2), 2, RoundingMode.HALF_UP);
		BigDecimal added = injected.add(discarded).subtract(lidocaine).subtract(drawn);
		this.clinic.add("preparations.csv", "record_number", this.recordNumber, "session_number", this.session,
				"preparation", 1, "product", lot.startsWith("H") ? "PDLLA with hyaluronic acid" : "PDLLA", "lot", lot,
				"expires_on", day.plusDays(90 + this.random.nextInt(300)), "vial_mg", lot.startsWith("H") ? 120 : 150,
				"diluent_ml", 4, "stock_drawn_ml", drawn, "added_diluent_ml", added, "lidocaine_percent", 2,
				"lidocaine_ml", lidocaine, "discarded_ml", chance(0.02) ? "0.90" : discarded);
	}

	/** A lot serves for about three months; the lumpy one did a year ago. */
	private String lot(LocalDate day) {
		long quarter = (day.toEpochDay() - this.clinic.today().minusDays(600).toEpochDay()) / 92;
		boolean withHyaluronicAcid = (this.practitioner.name().hashCode() + this.number) % 2 == 0;
		if (!withHyaluronicAcid) {
			return "P25%02d".formatted(quarter + 3);
		}
		return (quarter == 3) ? InventedClinic.LUMPY_LOT : "H24%02d".formatted(quarter + 10);
	}

	private Layer layer(Region region, boolean lastShown) {
		boolean thin = switch (region) {
			case PERIORBITAL_LEFT, PERIORBITAL_RIGHT, TEMPLE_LEFT, TEMPLE_RIGHT -> true;
			default -> false;
		};
		if (lastShown && (this.story == Story.LASTING_LUMP || this.story == Story.PERSISTENT_LUMP)) {
			return Layer.SUPERFICIAL_DERMIS;
		}
		if (chance(this.practitioner.superficial())) {
			return Layer.SUPERFICIAL_DERMIS;
		}
		return (thin || chance(0.35)) ? Layer.MID_DERMIS : Layer.DEEP_DERMIS;
	}

	private LocalDate mayRaiseLump(LocalDate day, Region region, String scar, Layer layer, double rate,
			double shortening, boolean lastShown) {
		double factor = switch (layer) {
			case SUPERFICIAL_DERMIS -> 2.2;
			case MID_DERMIS -> 1;
			default -> 0.7;
		};
		boolean wanted = lastShown && this.session > 1 && scar.isEmpty() && region == this.regions.get(0);
		boolean lasting = wanted && this.story == Story.LASTING_LUMP;
		boolean persistent = wanted && this.story == Story.PERSISTENT_LUMP;
		if (!lasting && !persistent && !chance(rate * factor)) {
			return day;
		}
		double lasts = switch (layer) {
			case SUPERFICIAL_DERMIS -> this.clinic.planted().superficialLasts();
			case MID_DERMIS -> 1;
			default -> this.clinic.planted().deepLasts();
		};
		double weibull = LUMP_DAYS * lasts * shortening * Math.pow(-Math.log(1 - this.random.nextDouble()), 1 / 1.15);
		int days = lasting ? 200 : persistent ? 24 : (int) Math.ceil(weibull);
		this.openLumps.add(new InventedLump(region, scar, this.session, day, day.plusDays(days),
				chance(this.clinic.planted().feltAtOnce())));
		return day.plusDays(Math.min(days, 60));
	}

	/**
	 * Asks on days 1, 3, 7 and 15, then every 7 days while a lump was there or nobody
	 * answered.
	 */
	private void contacts(LocalDate treated, LocalDate next) {
		LocalDate today = this.clinic.today();
		boolean goOn = true;
		LocalDate asked = treated;
		int day = 0;
		for (int index = 0; goOn || index < CONTACT_DAYS.length; index++) {
			day = (index < CONTACT_DAYS.length) ? CONTACT_DAYS[index] : day + 7;
			LocalDate on = Bookings.working(treated.plusDays(day));
			if (!on.isBefore(next) || on.isAfter(today)) {
				break;
			}
			if (on.equals(asked)) {
				continue;
			}
			asked = on;
			boolean reached = this.story != Story.SILENT && chance(0.86);
			boolean declined = !reached && this.story != Story.SILENT && chance(0.06);
			boolean present = false;
			if (reached) {
				for (InventedLump lump : List.copyOf(this.openLumps)) {
					present |= lump.isPresentOn(on);
					observe(lump, on, "patient", (on.getDayOfYear() % 3 == 0) ? "phone" : "link");
				}
			}
			this.clinic.add("contacts.csv", "record_number", this.recordNumber, "session_number", this.session,
					"contacted_on", on, "channel", (on.getDayOfYear() % 3 == 0) ? "phone" : "link", "outcome",
					reached ? "reached" : declined ? "declined" : "no_answer", "lumps_present",
					reached ? (present ? "yes" : "no") : "", "pain_nrs",
					(reached && day <= 3) ? this.random.nextInt(4) : "", "note", "");
			goOn = present || !reached;
		}
		if (!next.isAfter(today)) {
			return;
		}
		this.openLumps.forEach((lump) -> lump.writeUnseen(this.clinic, this.recordNumber));
	}

	private void lookAtOpenLumps(LocalDate day) {
		for (InventedLump lump : List.copyOf(this.openLumps)) {
			observe(lump, day, "practitioner", "visit");
		}
	}

	private void observe(InventedLump lump, LocalDate day, String reporter, String channel) {
		boolean gone = lump.observe(this.clinic, this.recordNumber, day, reporter, channel, decimal(uniform(2, 7), 1),
				chance(0.25));
		if (gone) {
			this.openLumps.remove(lump);
		}
	}

	private void otherFindings(LocalDate day, boolean lastShown) {
		boolean bruising = this.practitioner.name().equals(InventedClinic.BRUISING);
		if (chance(this.clinic.planted().bruises() * (bruising ? this.clinic.planted().bruisesOfOne() : 1))) {
			passing("bruise", day, 1, 6 + this.random.nextInt(7));
		}
		if (chance(0.10)) {
			passing("erythema", day, 0, 2 + this.random.nextInt(5));
		}
		if (this.phototype >= 4 && chance(0.07)) {
			passing("pih", day, 18, 60 + this.random.nextInt(60));
		}
		if (chance(0.03)) {
			passing("acne_flare", day, 3, 12 + this.random.nextInt(14));
		}
		if (lastShown && this.session > 1 && this.story == Story.INFECTION) {
			unclosed("infection_local", day.plusDays(5), 2);
			if (this.clinic.isFirstPossibleEmergency()) {
				unclosed("infection_spreading", day.plusDays(6), 3);
			}
		}
		if (lastShown && this.session > 1 && this.story == Story.NODULE) {
			unclosed("delayed_inflammatory_nodule", day.plusDays(26), 2);
		}
	}

	private void passing(String kind, LocalDate day, int onset, int days) {
		LocalDate noted = day.plusDays(onset);
		LocalDate gone = day.plusDays(onset + days);
		if (noted.isAfter(this.clinic.today())) {
			return;
		}
		String finding = finding(kind, noted, 1);
		observation(finding, noted, true, "patient", "phone");
		if (!gone.isAfter(this.clinic.today())) {
			observation(finding, gone, false, "patient", "phone");
		}
	}

	private void unclosed(String kind, LocalDate noted, int grade) {
		if (!noted.isAfter(this.clinic.today())) {
			observation(finding(kind, noted, grade), noted, true, "practitioner", "visit");
		}
	}

	private String finding(String kind, LocalDate noted, int grade) {
		String code = this.clinic.nextFinding();
		this.clinic.add("findings.csv", "finding", code, "record_number", this.recordNumber, "session_number",
				this.session, "kind", kind, "region", this.regions.get(this.random.nextInt(this.regions.size())).word(),
				"scar_label", "", "first_noted_on", noted, "grade", grade, "serious", "no", "gone_on", "", "closed_on",
				"", "closed_by", "");
		return code;
	}

	private void observation(String finding, LocalDate day, boolean present, String reporter, String channel) {
		this.clinic.add("finding_observations.csv", "finding", finding, "observed_on", day, "reporter", reporter,
				"channel", channel, "present", present ? "yes" : "no", "size_mm", "");
	}

	private void assess(LocalDate day, boolean afterBaseline) {
		if (day.isAfter(this.clinic.today())) {
			return;
		}
		rate(day, this.practitioner.name(), 0, afterBaseline);
		if (chance(0.12)) {
			rate(day, otherPractitioner(), 0, afterBaseline);
		}
		if (chance(0.06)) {
			rate(day, this.practitioner.name(), 1, afterBaseline);
		}
		double progress = this.scars.stream().mapToDouble((scar) -> scar.trueMm / scar.baselineMm).average().orElse(1);
		for (Region region : this.regions) {
			int grade = (int) Math.round(Math.min(4, Math.max(0, 3.2 * progress + 0.5 * this.random.nextGaussian())));
			this.clinic.add("pore_assessments.csv", "record_number", this.recordNumber, "region", region.word(),
					"assessed_on", day, "assessor", this.practitioner.name(), "grade", grade, "pores_per_cm2",
					chance(0.4) ? decimal(60 + 25 * grade + uniform(-8, 8), 1) : "");
		}
		if (afterBaseline) {
			double improvement = 1 - progress;
			gais(day, "practitioner", improvement + 0.08 * this.random.nextGaussian());
			gais(day, "patient", improvement + 0.14 * this.random.nextGaussian());
		}
		if (this.countedWhole) {
			count(day, progress);
		}
	}

	private void rate(LocalDate day, String assessor, int repeat, boolean afterBaseline) {
		for (InventedScar scar : this.scars) {
			double depth = decimal(scar.trueMm * Math.exp(READING_ERROR * this.random.nextGaussian()), 2).doubleValue();
			boolean measured = chance(0.94);
			int severity = (depth < 0.1) ? 0 : (depth < 0.3) ? 1 : (depth < 0.5) ? 2 : (depth < 0.9) ? 3 : 4;
			double percent = 100 * (1 - depth / scar.baselineMm) + 8 * this.random.nextGaussian();
			this.clinic.add("scar_assessments.csv", "record_number", this.recordNumber, "scar_label", scar.label,
					"assessed_on", day, "assessor", assessor, "repeat", repeat, "length_mm", decimal(scar.lengthMm, 1),
					"width_mm", decimal(scar.widthMm, 1), "depth_mm", measured ? decimal(depth, 2) : "", "depth_method",
					measured ? this.depthMethod : "", "depth_class", InventedScar.depthClass(depth).word(), "severity",
					severity, "response", afterBaseline ? judged(percent) : "");
		}
	}

	private static int judged(double percent) {
		return (percent < -12) ? -1
				: (percent <= 5) ? 0 : (percent < 25) ? 1 : (percent <= 50) ? 2 : (percent <= 75) ? 3 : 4;
	}

	private void gais(LocalDate day, String who, double improvement) {
		int value = (improvement < -0.1) ? -1
				: (improvement < 0.08) ? 0 : (improvement < 0.28) ? 1 : (improvement < 0.5) ? 2 : 3;
		this.clinic.add("global_assessments.csv", "record_number", this.recordNumber, "assessed_on", day, "assessor",
				this.practitioner.name(), "scale", "gais", "item", who, "value", value);
	}

	private void count(LocalDate day, double progress) {
		for (Region region : Region.values()) {
			boolean treated = this.regions.contains(region);
			for (String type : List.of("ice_pick", "boxcar", "rolling", "elastolysis", "hypertrophic", "keloid")) {
				double usual = switch (type) {
					case "ice_pick" -> 7;
					case "boxcar" -> 4;
					case "rolling" -> 2;
					default -> 0;
				};
				int count = (int) Math.round(treated ? usual * (0.5 + 0.5 * progress) * uniform(0.6, 1.4) : 0);
				this.clinic.add("scar_counts.csv", "record_number", this.recordNumber, "region", region.word(), "type",
						type, "assessed_on", day, "assessor", this.practitioner.name(), "count", count);
			}
		}
	}

	private void book(LocalDate last) {
		LocalDate today = this.clinic.today();
		LocalDate day = last.plusDays(44 + this.random.nextInt(14));
		if (this.story == Story.OVERDUE || this.story == Story.SILENT || !day.isAfter(today) || !chance(0.6)) {
			return;
		}
		var starts = this.clinic.bookings().next(this.practitioner.name(), day);
		this.clinic.add("appointments.csv", "record_number", this.recordNumber, "practitioner",
				this.practitioner.name(), "starts_at", starts, "ends_at", starts.plusMinutes(Bookings.MINUTES),
				"purpose", "treatment", "status", "booked");
	}

	private Practitioner pickPractitioner() {
		double point = this.random.nextDouble();
		for (Practitioner candidate : InventedClinic.PRACTITIONERS) {
			point -= candidate.share();
			if (point < 0) {
				return candidate;
			}
		}
		return InventedClinic.PRACTITIONERS.get(0);
	}

	private String otherPractitioner() {
		var others = InventedClinic.PRACTITIONERS.stream().filter((other) -> other != this.practitioner).toList();
		return others.get(this.random.nextInt(others.size())).name();
	}

	private ScarType pickType() {
		double point = this.random.nextDouble();
		return (point < 0.42) ? ScarType.ICE_PICK : (point < 0.70) ? ScarType.BOXCAR
				: (point < 0.92) ? ScarType.ROLLING : (point < 0.98) ? ScarType.LINEAR : ScarType.FOLD;
	}

	private static double typicalDepth(ScarType type) {
		return switch (type) {
			case ICE_PICK -> 0.85;
			case BOXCAR -> 0.50;
			case ROLLING -> 0.38;
			default -> 0.45;
		};
	}

	private boolean chance(double probability) {
		return this.random.nextDouble() < probability;
	}

	private double uniform(double low, double high) {
		return low + (high - low) * this.random.nextDouble();
	}

	private String yesNo(double probability) {
		return chance(probability) ? "yes" : "no";
	}

	private String pick(String... values) {
		return values[this.random.nextInt(values.length)];
	}

	private static LocalDate later(LocalDate one, LocalDate other) {
		return one.isAfter(other) ? one : other;
	}

	private static BigDecimal decimal(double value, int places) {
		return BigDecimal.valueOf(value).setScale(places, RoundingMode.HALF_UP);
	}

}
