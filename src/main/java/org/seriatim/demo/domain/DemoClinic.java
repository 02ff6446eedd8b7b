package org.seriatim.demo.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.seriatim.access.AccountRegister;
import org.seriatim.access.DemoSignIns;
import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.appointment.WorkingWeek;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.SmartInitializingSingleton;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;
import org.springframework.util.FileSystemUtils;

/**
 * Loads the invented clinic into an empty installation of the profile {@code demo},
 * before the first page is answered.
 */
@Component
@Profile("demo")
class DemoClinic implements SmartInitializingSingleton, DemoSignIns {

	static final int PATIENTS = 240;

	static final long SEED = 1;

	private static final String PASSWORD = "a series of small steps";

	private static final List<DemoSignIn> STAFF = List.of(person("i.sandell", Role.PRACTITIONER),
			person("m.tarrow", Role.PRACTITIONER), person("o.brisk", Role.PRACTITIONER),
			person("v.quell", Role.PRACTITIONER), person("f.moor", Role.FRONT_DESK), person("a.linde", Role.ASSISTANT),
			person("l.hagen", Role.CLINIC_LEAD, Role.PRACTITIONER), person("s.ost", Role.ADMINISTRATOR));

	private static final Logger logger = LoggerFactory.getLogger(DemoClinic.class);

	private final AccountRegister accounts;

	private final StaffDirectory staff;

	private final BundleImport records;

	private final InventedScreenings screenings;

	private final InventedCare care;

	private final InventedPhotographs photographs;

	private final WorkingWeek hours;

	private final InventedContacts contacts;

	private final Clock clock;

	DemoClinic(AccountRegister accounts, StaffDirectory staff, BundleImport records, InventedScreenings screenings,
			InventedCare care, InventedPhotographs photographs, WorkingWeek hours, InventedContacts contacts,
			Clock clock) {
		this.photographs = photographs;
		this.screenings = screenings;
		this.accounts = accounts;
		this.staff = staff;
		this.records = records;
		this.care = care;
		this.hours = hours;
		this.contacts = contacts;
		this.clock = clock;
	}

	private static DemoSignIn person(String name, Role first, Role... more) {
		return new DemoSignIn(name, PASSWORD, EnumSet.of(first, more));
	}

	@Override
	public void afterSingletonsInstantiated() {
		if (!this.accounts.isEmpty()) {
			return;
		}
		logger.info("Loading the invented clinic of {} patients", PATIENTS);
		take(InventedClinic.of(PATIENTS, SEED, LocalDate.now(this.clock), this.clock.getZone()));
		STAFF.forEach((person) -> this.accounts.open(person.name(), person.roles(), person.password()));
		this.screenings.add("a.linde");
		this.care.describe();
		this.photographs.add();
		var from = LocalDate.now(this.clock).minusDays(InventedClinic.DAYS_OF_RECORDS);
		this.staff.named(InventedClinic.PRACTITIONERS.stream().map(InventedClinic.Practitioner::name).toList())
			.values()
			.forEach((practitioner) -> work(practitioner, from));
		this.contacts.add();
	}

	/** From Monday to Friday, with a break at noon. */
	private void work(StaffId practitioner, LocalDate from) {
		for (var weekday : EnumSet.range(DayOfWeek.MONDAY, DayOfWeek.FRIDAY)) {
			this.hours.enter(practitioner, weekday, Bookings.OPENS, Bookings.BREAK, from);
			this.hours.enter(practitioner, weekday, Bookings.BREAK_ENDS, Bookings.CLOSES, from);
		}
	}

	private void take(InventedClinic clinic) {
		try {
			Path folder = Files.createTempDirectory("invented-clinic");
			try {
				clinic.writeTo(folder);
				if (this.records.take(folder, false,
						ImportProgress.UNWATCHED) instanceof ImportResult.Refused refused) {
					throw new IllegalStateException("the invented clinic was refused: " + refused.problems().first());
				}
			}
			finally {
				FileSystemUtils.deleteRecursively(folder);
			}
		}
		catch (IOException ex) {
			throw new IllegalStateException("the invented clinic could not be written", ex);
		}
	}

	/**
	 * Shown only where the first of them can sign in, so never over a clinic's own
	 * records.
	 */
	@Override
	public List<DemoSignIn> list() {
		Set<String> loaded = Stream.of(Role.values())
			.flatMap((role) -> this.staff.holding(role).stream())
			.map(StaffMember::name)
			.collect(Collectors.toSet());
		return STAFF.stream().filter((person) -> loaded.contains(person.name())).toList();
	}

}
