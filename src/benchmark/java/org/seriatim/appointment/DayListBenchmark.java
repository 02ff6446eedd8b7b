package org.seriatim.appointment;

import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.seriatim.SeriatimApplication;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.appointment.domain.DayList;
import org.seriatim.database.RecordsOwner;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.util.FileSystemUtils;

/**
 * How long the list of the day takes among many patients: the whole service on its
 * embedded database in a folder of its own, asked over a connection by one person and
 * then by twenty, each of whom opens the list every five seconds. In turn with the list,
 * a page of the same shell with nothing in it is asked for in the same way.
 * <p>
 * The records are invented in the database itself: of every ten patients six have an open
 * series, four an ended one; of the open ones a third is booked, a sixth on hold, and
 * half are to be contacted, a quarter of them in vain so far. Each session has the
 * appointment that it was, an assessment, and three advices that were replaced since.
 */
final class DayListBenchmark {

	private static final int PATIENTS = Integer.getInteger("patients", 10_000);

	private static final int USERS = 20;

	private static final int WARM_UP = 300;

	private static final int ALONE = 200;

	private static final int EACH = 12;

	/** How often each of several people opens the list, in milliseconds. */
	private static final int EVERY = 5_000;

	private static final String PASSWORD = "long enough to be one";

	private static final Pattern TOKEN = Pattern.compile("name=\"csrf\" content=\"([^\"]+)\"");

	private DayListBenchmark() {
	}

	public static void main(String[] args) throws Exception {
		var data = Files.createTempDirectory("seriatim-day-list");
		try (var service = new SpringApplication(SeriatimApplication.class).run("--server.port=0",
				"--seriatim.data=" + data, "--seriatim.requests.of-account=1000000", "--logging.level.root=warn")) {
			// the owner, whose statistics count; the service may not make any
			invent(JdbcClient.create(service.getBean(RecordsOwner.class).dataSource()));
			measure(service);
		}
		finally {
			FileSystemUtils.deleteRecursively(data);
		}
		System.exit(0);
	}

	/** Days are counted from today, so that the same share is due whenever it is run. */
	private static void invent(JdbcClient database) {
		var today = LocalDate.now();
		for (var statement : List.of("insert into staff (name) select 'p.' || n from generate_series(0, 9) n", """
				insert into patient (record_number, family_name, given_name, phone)
				select 'B-' || n, 'Family' || n, 'Given', '+00 555 ' || n from generate_series(1, :patients) n""", """
				insert into series (patient_id, number, status, ended_on, protocol_version)
				select id, 1, case when n % 10 < 6 then 'open' else 'completed' end,
					case when n % 10 < 6 then null else cast(:today as date) - 30 end, 1
				from (select id, substr(record_number, 3)::int as n from patient) p""", """
				insert into session (patient_id, series_id, number, treated_on, practitioner_id)
				select p.id, s.id, k, cast(:today as date) - n % 150 - (3 - k) * 45, staff.id
				from (select id, substr(record_number, 3)::int as n from patient) p
					join series s on s.patient_id = p.id join staff on staff.name = 'p.' || n % 10,
					generate_series(1, 3) k""", """
				insert into contact (patient_id, session_id, contacted_on, recorded_at, recorded_by, channel, outcome)
				select s.patient_id, s.id, s.treated_on + d, s.treated_on + d, s.practitioner_id, 'phone',
					case when (substr(p.record_number, 3)::int / 2 + d) % 4 = 0 then 'no_answer' else 'reached' end
				from session s join patient p on p.id = s.patient_id, unnest(array[1, 3, 7]) d
				where s.treated_on + d <= cast(:today as date)""",
				"""
						insert into finding (code, patient_id, session_id, kind, region, first_noted_on, grade, serious)
						select 'F' || p.record_number, s.patient_id, s.id, case when n % 10 = 0 then 'burn' else 'lump' end, 'nose',
							s.treated_on, 1, false
						from (select id, record_number, substr(record_number, 3)::int as n from patient) p
							join session s on s.patient_id = p.id and s.number = 3 where n % 3 = 0 or n % 10 = 0""",
				"insert into snapshot (number, made_at, as_of, content) select 1000000, now(), cast(:today as date), '{}'",
				"""
						insert into advice (patient_id, series_id, session_id, computed_at, as_of, protocol_version,
							snapshot_number, facts, content, status, first_day, target_day, last_day, next_contact_day)
						select s.patient_id, s.series_id, s.id, now(), cast(:today as date), 1, 1000000, '{}', '{"reasons": []}',
							case n % 10 when 0 then 'hold' when 1 then 'wait_for_contact' else 'window' end,
							case when n % 10 > 0 then s.treated_on + 42 end, case when n % 10 > 0 then s.treated_on + 42 end,
							case when n % 10 > 0 then s.treated_on + 56 end,
							case when n % 2 = 0 then cast(:today as date) - n % 5 end
						from (select id, substr(record_number, 3)::int as n from patient) p
							join session s on s.patient_id = p.id and s.number = 3
							join series on series.id = s.series_id and series.status = 'open'""",
				"""
						insert into advice_decision (advice_id, decided_at, decided_by, accepted)
						select advice.id, now(), staff.id, true from advice, staff where staff.name = 'p.0'
							and advice.status = 'window'""",
				"""
						insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
							ends_offset_minutes, purpose, status)
						select p.id, staff.id, cast(:today as timestamp) at time zone 'UTC' + (n - 100) * interval '10 minutes',
							cast(:today as timestamp) at time zone 'UTC' + (n - 99) * interval '10 minutes', 0, 0, 'treatment',
							'booked'
						from (select id, substr(record_number, 3)::int as n from patient) p join staff on staff.name = 'p.' || n % 10
						where n % 3 = 0""",
				"""
						insert into appointment (patient_id, practitioner_id, starts_at, ends_at, starts_offset_minutes,
							ends_offset_minutes, purpose, status, recorded_at, recorded_by)
						select patient_id, practitioner_id, starts, starts + interval '10 minutes', 0, 0, 'treatment', 'completed',
							starts, practitioner_id
						from (select s.*, cast(treated_on as timestamp) at time zone 'UTC'
								+ (substr(record_number, 3)::int % 50) * interval '10 minutes' as starts
							from session s join patient on patient.id = patient_id) done""",
				"""
						insert into pore_assessment (patient_id, region, assessed_on, assessor_id, grade)
						select patient_id, 'nose', treated_on, practitioner_id, 2 from session""",
				"""
						insert into advice (patient_id, series_id, session_id, computed_at, as_of, protocol_version,
							snapshot_number, facts, content, status, first_day, target_day, last_day, replaced_at)
						select patient_id, series_id, id, treated_on + k, treated_on + k, 1, 1000000,
							jsonb_build_object('facts', repeat(md5(id::text || k), 30)), '{"reasons": []}', 'window',
							treated_on + 42, treated_on + 42, treated_on + 56, treated_on + k + 1
						from session, generate_series(1, 3) k""",
				"""
						insert into advice_decision (advice_id, decided_at, decided_by, accepted)
						select advice.id, advice.computed_at, staff.id, true
						from advice join session on session.id = session_id, staff
						where staff.name = 'p.0' and replaced_at is not null and as_of = treated_on + 3 and number < 3""",
				"vacuum analyze")) {
			database.sql(statement).param("patients", PATIENTS).param("today", today).update();
		}
	}

	private static void measure(ConfigurableApplicationContext service) throws Exception {
		var host = "http://localhost:" + service.getEnvironment().getProperty("local.server.port");
		var page = URI.create(host + "/today");
		var shell = URI.create(host + "/password");
		var cookies = new ArrayList<String>();
		for (int user = 0; user < USERS; user++) {
			cookies.add(signIn(service, "b.enchmark" + user));
		}
		var client = HttpClient.newHttpClient();
		for (int warmUp = 0; warmUp < WARM_UP; warmUp++) {
			ask(client, page, cookies.get(0));
			ask(client, shell, cookies.get(0));
		}
		var list = service.getBean(DayList.class);
		var items = list.today().size();
		var alone = new ArrayList<Long>();
		var nothing = new ArrayList<Long>();
		var bare = new ArrayList<Long>();
		for (int one = 0; one < ALONE; one++) {
			alone.add(ask(client, page, cookies.get(0)));
			nothing.add(ask(client, shell, cookies.get(0)));
			var started = System.nanoTime();
			list.today();
			bare.add(System.nanoTime() - started);
		}
		var together = together(client, page, cookies);
		var nothingTogether = together(client, shell, cookies);
		System.out.printf(Locale.ROOT, "%n%,d patients, %,d items on the list%n%n", PATIENTS, items);
		System.out.println("| Patients | What | Asked by | Median ms | 95th percentile ms | Slowest ms |");
		System.out.println("| --- | --- | --- | --- | --- | --- |");
		report("the list without its page | nobody", bare);
		report("the page | one", alone);
		report("a page of the shell alone (baseline) | one", nothing);
		report("the page | " + USERS + ", every 5 s each", together);
		report("a page of the shell alone (baseline) | " + USERS + ", every 5 s each", nothingTogether);
	}

	private static List<Long> together(HttpClient client, URI page, List<String> cookies) throws Exception {
		var threads = Executors.newFixedThreadPool(USERS);
		var users = new ArrayList<Callable<List<Long>>>();
		for (int user = 0; user < USERS; user++) {
			var cookie = cookies.get(user);
			var head = user * (EVERY / USERS);
			users.add(() -> {
				var taken = new ArrayList<Long>();
				Thread.sleep(head);
				for (int one = 0; one < EACH; one++) {
					var nanos = ask(client, page, cookie);
					taken.add(nanos);
					Thread.sleep(Math.max(0, EVERY - nanos / 1_000_000));
				}
				return taken;
			});
		}
		var together = new ArrayList<Long>();
		for (var answers : threads.invokeAll(users)) {
			together.addAll(answers.get());
		}
		threads.shutdown();
		return together;
	}

	private static void report(String by, List<Long> nanos) {
		Collections.sort(nanos);
		System.out.printf(Locale.ROOT, "| %,d | %s | %.1f | %.1f | %.1f |%n", PATIENTS, by,
				nanos.get(nanos.size() / 2) / 1e6, nanos.get((int) (nanos.size() * 0.95)) / 1e6,
				nanos.get(nanos.size() - 1) / 1e6);
	}

	private static long ask(HttpClient client, URI address, String cookie) throws Exception {
		var started = System.nanoTime();
		var answer = client.send(HttpRequest.newBuilder(address).header("Cookie", cookie).build(),
				BodyHandlers.ofByteArray());
		var taken = System.nanoTime() - started;
		if (answer.statusCode() != 200) {
			throw new IllegalStateException("answered " + answer.statusCode());
		}
		return taken;
	}

	/** As a browser does. */
	private static String signIn(ConfigurableApplicationContext service, String name) throws Exception {
		service.getBean(AccountRegister.class).open(name, Set.of(Role.FRONT_DESK), PASSWORD);
		var cookies = new CookieManager();
		var browser = HttpClient.newBuilder().cookieHandler(cookies).build();
		var page = URI
			.create("http://localhost:" + service.getEnvironment().getProperty("local.server.port") + "/sign-in");
		var form = browser.send(HttpRequest.newBuilder(page).build(), BodyHandlers.ofString()).body();
		var token = TOKEN.matcher(form);
		if (!token.find()) {
			throw new IllegalStateException("the page has no form");
		}
		var sent = "name=" + name + "&password=" + URLEncoder.encode(PASSWORD, StandardCharsets.UTF_8) + "&_csrf="
				+ URLEncoder.encode(token.group(1), StandardCharsets.UTF_8);
		var answer = browser.send(HttpRequest.newBuilder(page)
			.header("Content-Type", "application/x-www-form-urlencoded")
			.POST(BodyPublishers.ofString(sent))
			.build(), BodyHandlers.discarding());
		if (answer.statusCode() != 302) {
			throw new IllegalStateException("signing in was answered " + answer.statusCode());
		}
		return cookies.getCookieStore()
			.getCookies()
			.stream()
			.map((cookie) -> cookie.getName() + "=" + cookie.getValue())
			.collect(Collectors.joining("; "));
	}

}
