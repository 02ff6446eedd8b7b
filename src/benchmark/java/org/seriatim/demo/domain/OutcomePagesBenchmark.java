package org.seriatim.demo.domain;

import java.io.IOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.seriatim.SeriatimApplication;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.outcome.domain.OutcomeKernels;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.util.FileSystemUtils;

/**
 * How long the pages of the clinic's figures take in a generated clinic: the whole
 * service on its embedded database in a folder of its own, asked over a connection, a
 * page and its plain aggregate in turn.
 * <p>
 * The plain aggregate of a page is one statement that reads the same records once and
 * counts or averages them by the same groups, without limits, models, intervals or a
 * page; and for every page the statement of who was assessed. It is asked over the service's own connections.
 */
final class OutcomePagesBenchmark {

	private static final int PATIENTS = Integer.getInteger("patients", 10_000);

	private static final String PASSWORD = "long enough to be one";

	private static final Pattern TOKEN = Pattern.compile("name=\"csrf\" content=\"([^\"]+)\"");

	private static final int MEASURED = Integer.getInteger("rounds", 7);

	private record Measured(String path, String aggregate) {
	}

	/** What stands at the top of every page. */
	private static final String FLOW = """
			select count(*), count(distinct patient_id), count(distinct series_id), count(*) filter (where
				exists (select from scar_assessment a where a.patient_id = followed.patient_id
					and assessed_on > treated_on and assessed_on <= next_on)
				or exists (select from pore_assessment a where a.patient_id = followed.patient_id
					and assessed_on > treated_on and assessed_on <= next_on)
				or exists (select from global_assessment a where a.patient_id = followed.patient_id
					and assessed_on > treated_on and assessed_on <= next_on))
			from (select *, lead(treated_on, 1, current_date) over (partition by patient_id order by number) as next_on
				from session) followed""";

	private static final String STAGED = """
			with staged as (
				select id, series_id, patient_id, treated_on, row_number() over so_far as stage,
					lead(treated_on, 1, current_date) over so_far as ends_on
				from session window so_far as (partition by series_id order by number))
			""";

	private static final List<Measured> PAGES = List.of(
			new Measured("/outcomes/improvement", STAGED + """
					, last as (
						select staged.series_id, staged.stage, scar_id, max(assessed_on) as day
						from staged join scar_assessment a on a.patient_id = staged.patient_id
							and assessed_on > treated_on and assessed_on <= ends_on
						group by 1, 2, 3),
					began as (
						select staged.series_id, scar_id, max(assessed_on) as day
						from staged join scar_assessment a on a.patient_id = staged.patient_id and assessed_on <= treated_on
						where stage = 1
						group by 1, 2),
					ecca as (
						select assessed_on, patient_id, type, sum(count) from scar_count group by 1, 2, 3),
					face as (
						select stage, scale, item, count(*), avg(value)
						from staged join global_assessment a on a.patient_id = staged.patient_id
							and assessed_on > treated_on and assessed_on <= ends_on
						group by 1, 2, 3),
					pores as (
						select stage, region, count(*), avg(grade), avg(pores_per_cm2)
						from staged join pore_assessment a on a.patient_id = staged.patient_id
							and assessed_on > treated_on and assessed_on <= ends_on
						group by 1, 2),
					scars as (
						select scar.type, last.stage, count(*), avg(100 * (1 - a.depth_mm / nullif(b.depth_mm, 0))),
							avg(a.severity - b.severity)
						from last join scar on scar.id = last.scar_id
						join scar_assessment a on a.scar_id = last.scar_id and a.assessed_on = last.day
						join began on began.series_id = last.series_id and began.scar_id = last.scar_id
						join scar_assessment b on b.scar_id = last.scar_id and b.assessed_on = began.day
						group by 1, 2)
					select (select count(*) from scars), (select count(*) from ecca), (select count(*) from face), (select count(*) from pores)"""),
			new Measured("/outcomes/lumps", """
					select layer, count(*), avg(gone_on - treated_on) from (
						select finding.id, treated_on, (
							select min(injection.layer) from injection where injection.session_id = finding.session_id
								and injection.region = finding.region) as layer,
							min(observed_on) filter (where not present) as gone_on
						from finding join session on session.id = finding.session_id
						left join finding_observation on finding_id = finding.id
						where kind = 'lump' group by finding.id, treated_on) lumps
					group by 1"""),
			new Measured("/outcomes/complications", """
					select kind, count(distinct session_id), count(distinct finding.patient_id), (select count(*) from session),
						count(*) filter (where (select present from finding_observation
							where finding_id = finding.id order by observed_on desc limit 1)),
						(select count(*) from session where not exists (
							select from contact where session_id = session.id and outcome = 'reached'))
					from finding join session on session.id = finding.session_id group by 1"""),
			new Measured("/outcomes/complications?kind=bruise", """
					select practitioner_id, lot, count(distinct session.id), count(distinct finding.session_id)
					from session join preparation on preparation.session_id = session.id
					left join finding on finding.session_id = session.id and kind = 'bruise'
					group by grouping sets ((practitioner_id), (lot), ())"""),
			new Measured("/outcomes/repeatability", """
					select count(*), avg(abs(a.depth_mm - b.depth_mm)), avg(abs(a.severity - b.severity))
					from scar_assessment a join scar_assessment b using (scar_id, assessed_on)
					where (a.assessor_id, a.repeat) < (b.assessor_id, b.repeat)"""),
			new Measured("/outcomes/data-quality", """
					select (select count(*) filter (where map_x is null) from scar),
						(select count(*) filter (where depth_mm is null) from scar_assessment),
						(select count(*) from (
							select preparation.id from preparation join injection on injection.preparation_id = preparation.id
							group by preparation.id
							having abs(stock_drawn_ml + coalesce(added_diluent_ml, 0) + coalesce(lidocaine_ml, 0)
								- coalesce(discarded_ml, 0) - sum(volume_ml)) > 0.05) off),
						(select count(*) from advice where replaced_at is null and next_contact_day < current_date)"""));

	private OutcomePagesBenchmark() {
	}

	public static void main(String[] args) throws Exception {
		var kept = System.getProperty("data");
		var data = (kept != null) ? Path.of(kept) : Files.createTempDirectory("seriatim-outcome-pages");
		try (var service = new SpringApplication(SeriatimApplication.class).run("--server.port=0",
				"--seriatim.data=" + data, "--seriatim.requests.of-account=1000000", "--logging.level.root=warn")) {
			var database = service.getBean(JdbcClient.class);
			if (count(database, "patient") == 0) {
				fill(service, database, data.resolve("generated"));
			}
			measure(service, database);
		}
		finally {
			if (kept == null) {
				FileSystemUtils.deleteRecursively(data);
			}
		}
		System.exit(0);
	}

	private static void fill(ConfigurableApplicationContext service, JdbcClient database, Path bundle)
			throws IOException {
			InventedClinic.of(PATIENTS, 1, LocalDate.now(), ZoneOffset.UTC).writeTo(bundle);
			var started = System.nanoTime();
			if (service.getBean(BundleImport.class)
				.take(bundle, false, ImportProgress.UNWATCHED) instanceof ImportResult.Refused refused) {
				throw new IllegalStateException("the generated clinic was refused: " + refused.problems().first());
			}
			System.out.printf(Locale.ROOT, "imported, advised and computed in %.0f s%n", (System.nanoTime() - started) / 1e9);
			database.sql("analyze").update();
	}

	private static void measure(ConfigurableApplicationContext service, JdbcClient database)
			throws IOException, InterruptedException {
		System.out.printf(Locale.ROOT, "%,d patients, %,d sessions, %,d assessments of scars, %,d findings%n%n",
				count(database, "patient"), count(database, "session"), count(database, "scar_assessment"),
				count(database, "finding"));
		var address = "http://localhost:" + service.getEnvironment().getProperty("local.server.port");
		var cookie = signIn(service);
		var client = HttpClient.newHttpClient();
		Map<Measured, List<Double>> pages = new LinkedHashMap<>();
		Map<Measured, List<Double>> aggregates = new LinkedHashMap<>();
		Map<Measured, List<Double>> computations = new LinkedHashMap<>();
		for (int round = 0; round <= MEASURED; round++) {
			for (var measured : PAGES) {
				var started = System.nanoTime();
				var answer = client.send(
						HttpRequest.newBuilder(URI.create(address + measured.path())).header("Cookie", cookie).build(),
						BodyHandlers.ofByteArray());
				pages.computeIfAbsent(measured, (key) -> new ArrayList<>()).add((System.nanoTime() - started) / 1e6);
				if (answer.statusCode() != 200) {
					throw new IllegalStateException(measured.path() + " answered " + answer.statusCode());
				}
				started = System.nanoTime();
				database.sql(measured.aggregate()).query().listOfRows();
				database.sql(FLOW).query().listOfRows();
				aggregates.computeIfAbsent(measured, (key) -> new ArrayList<>())
					.add((System.nanoTime() - started) / 1e6);
			}
		}
		var kernels = OutcomeKernels.of(service);
		for (int round = 0; round <= MEASURED; round++) {
			for (var measured : PAGES) {
				var started = System.nanoTime();
				kernels.get(measured.path()).run();
				computations.computeIfAbsent(measured, (key) -> new ArrayList<>())
					.add((System.nanoTime() - started) / 1e6);
			}
		}
		System.out.println("| Page | First ms | Median ms | Plain aggregate ms | Kernel ms | Times both |");
		System.out.println("| --- | --- | --- | --- | --- | --- |");
		pages.forEach((measured, all) -> {
			double page = median(all.subList(1, all.size()));
			double aggregate = median(aggregates.get(measured).subList(1, all.size()));
			double kernel = median(computations.get(measured).subList(1, all.size()));
			System.out.printf(Locale.ROOT, "| `%s` | %.0f | %.0f | %.0f | %.0f | %.1f |%n", measured.path(), all.get(0),
					page, aggregate, kernel, page / (aggregate + kernel));
		});
		System.gc();
		var runtime = Runtime.getRuntime();
		System.out.printf(Locale.ROOT, "%nheap in use afterwards: %d MB of at most %d MB%n",
				(runtime.totalMemory() - runtime.freeMemory()) >> 20, runtime.maxMemory() >> 20);
	}

	private static String signIn(ConfigurableApplicationContext service) throws IOException, InterruptedException {
		var name = "b.enchmark" + Long.toString(System.nanoTime(), 36);
		service.getBean(AccountRegister.class).open(name, Set.of(Role.PRACTITIONER), PASSWORD);
		var cookies = new CookieManager();
		var browser = HttpClient.newBuilder().cookieHandler(cookies).build();
		var page = URI
			.create("http://localhost:" + service.getEnvironment().getProperty("local.server.port") + "/sign-in");
		var form = TOKEN.matcher(browser.send(HttpRequest.newBuilder(page).build(), BodyHandlers.ofString()).body());
		if (!form.find()) {
			throw new IllegalStateException("the page has no form");
		}
		var sent = "name=" + name + "&password=" + URLEncoder.encode(PASSWORD, StandardCharsets.UTF_8) + "&_csrf="
				+ URLEncoder.encode(form.group(1), StandardCharsets.UTF_8);
		browser.send(HttpRequest.newBuilder(page)
			.header("Content-Type", "application/x-www-form-urlencoded")
			.POST(BodyPublishers.ofString(sent))
			.build(), BodyHandlers.discarding());
		return cookies.getCookieStore()
			.getCookies()
			.stream()
			.map((cookie) -> cookie.getName() + "=" + cookie.getValue())
			.collect(Collectors.joining("; "));
	}

	private static long count(JdbcClient database, String table) {
		return database.sql("select count(*) from " + table).query(Long.class).single();
	}

	private static double median(List<Double> values) {
		var sorted = new ArrayList<>(values);
		Collections.sort(sorted);
		return sorted.get(sorted.size() / 2);
	}

}
