package org.seriatim.proof;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;

import org.seriatim.exchange.SampleBundle;
import org.springframework.security.crypto.password.Pbkdf2PasswordEncoder;

/**
 * A clinic made for the writing load: its staff with sign-ins, and patients of one
 * session each, who are all alike and belong to whom they are given to.
 */
final class Clinic {

	static final String PASSWORD = "a series of small steps";

	/** Days before today on which everybody was treated. */
	static final int TREATED_DAYS_AGO = 30;

	private final Map<String, Patient> patients = new LinkedHashMap<>();

	private final Map<String, String> staff = new HashMap<>();

	private final LocalDate today = LocalDate.now();

	private int given;

	/** A patient with one open series and one session. */
	record Patient(String recordNumber, String id, String series, String session) {
	}

	/**
	 * Sets an empty service up.
	 * @param practitioners names of practitioners, each with a clinic lead beside the one
	 * clinic lead, the assistant and the front desk
	 */
	static Clinic in(Records records, UnaryOperator<String> addressOf, Path folder, int patients,
			List<String> practitioners) throws IOException {
		var clinic = new Clinic();
		var password = "{pbkdf2}" + Pbkdf2PasswordEncoder.defaultsForSpringSecurity_v5_8().encode(PASSWORD);
		for (var name : practitioners) {
			clinic.employ(records, name, password, "practitioner");
			clinic.employ(records, "lead." + name, password, "clinic_lead");
		}
		clinic.employ(records, "lead", password, "clinic_lead");
		clinic.employ(records, "assistant", password, "assistant");
		clinic.employ(records, "desk", password, "front_desk");
		clinic.employ(records, "admin", password, "administrator");
		records.execute("""
				insert into contact_link_settings (number, published_at, clinic_name, clinic_phone, emergency_text,
					emergency_phone, reading_times, base_address, days, sender, subject, body)
				select 2, now(), 'Invented clinic', '+00 1', 'Call the number below.', '+00 2', 'on weekdays',
					'https://clinic.example.org', 42, 'clinic@example.org', subject, body
				from contact_link_settings where number = 1""");
		var lead = new Person("lead", addressOf);
		lead.signInWithCode();
		var outcome = Office.take(lead, clinic.bundle("F", patients, practitioners.get(0)), folder);
		if (!outcome.contains("on record")) {
			throw new IOException("The patients were not taken: " + outcome);
		}
		records.rows("""
				select p.record_number, p.id, r.id, s.id
				from patient p join series r on r.patient_id = p.id join session s on s.patient_id = p.id
				order by 1""")
			.forEach((row) -> clinic.patients.put(row.get(0),
					new Patient(row.get(0), row.get(1), row.get(2), row.get(3))));
		return clinic;
	}

	private void employ(Records records, String name, String password, String role) {
		records.execute("insert into staff (name) values ('%s')".formatted(name),
				"""
						insert into account (staff_id, password, created_at) select id, '%s', now() from staff where name = '%s'"""
					.formatted(password, name),
				"""
						insert into account_role (account_id, role) select a.id, '%s' from account a join staff s on s.id = a.staff_id
						where s.name = '%s'"""
					.formatted(role, name));
		this.staff.put(name, records.column("select id from staff where name = '" + name + "'").get(0));
	}

	/** Patients that nobody else writes about. */
	synchronized List<Patient> give(int count) {
		var all = List.copyOf(this.patients.values());
		var from = this.given;
		this.given += count;
		if (this.given > all.size()) {
			throw new IllegalStateException("There are only " + all.size() + " patients");
		}
		return all.subList(from, this.given);
	}

	/** How many patients are left to be given. */
	synchronized int left() {
		return this.patients.size() - this.given;
	}

	String staffId(String name) {
		return this.staff.get(name);
	}

	LocalDate today() {
		return this.today;
	}

	/** Patients with one session of two injections, as a bundle. */
	SampleBundle bundle(String prefix, int patients, String practitioner) {
		var day = this.today.minusDays(TREATED_DAYS_AGO);
		var rows = new HashMap<String, StringBuilder>();
		for (int i = 0; i < patients; i++) {
			var number = "%s-%05d".formatted(prefix, i);
			add(rows, "patients.csv",
					number + ",Ash,Ida,1980-02-03,female,+00 1," + number.toLowerCase() + "@example.org,3,medium,oily");
			add(rows, "series.csv", number + ",1,scars,3,open,,");
			add(rows, "scars.csv", number + ",S1,chin,boxcar,0.5,0.8," + day);
			add(rows, "sessions.csv", number + ",1,1," + day + "," + practitioner + ",61.5,none,,40,no,yes,3,yes");
			add(rows, "preparations.csv", number + ",1,1,biostimulator A,L1,2031-12-01,200,5,1,0,,0,0.4");
			add(rows, "injections.csv", number + ",1,1,1,chin,S1,scar,mid_dermis,10,0.2,30,4,yes,no,,yes,,2");
			add(rows, "injections.csv", number + ",1,2,1,nose,,pores,mid_dermis,20,0.4,30,4,yes,no,,yes,,2");
		}
		var bundle = SampleBundle.empty();
		rows.forEach((file, text) -> bundle.edit(file, (header) -> header + text));
		return bundle;
	}

	private static void add(Map<String, StringBuilder> rows, String file, String row) {
		rows.computeIfAbsent(file, (name) -> new StringBuilder()).append(row).append('\n');
	}

	static byte[] zipped(SampleBundle bundle, Path folder) throws IOException {
		var zip = Files.createTempFile(folder, "bundle", ".zip");
		try {
			return Files.readAllBytes(bundle.zipTo(zip, ""));
		}
		finally {
			Files.delete(zip);
		}
	}

}
