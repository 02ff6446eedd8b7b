package org.seriatim.demo.domain;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

import org.seriatim.SeriatimApplication;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.context.SecurityContextImpl;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.session.Session;
import org.springframework.session.SessionRepository;
import org.springframework.util.FileSystemUtils;

/**
 * How long the pages of the clinic's figures take in a generated clinic: the whole
 * service on its embedded database in a folder of its own, asked over a connection, a
 * page and its plain aggregate in turn.
 * <p>
 * The plain aggregate of a page is one statement that reads the same records once and
 * counts or averages them by the same groups, without limits, models, intervals or a
 * page. It is asked over the service's own connections.
 */
final class OutcomePagesBenchmark {

	private static final int PATIENTS = Integer.getInteger("patients", 10_000);

	private static final int MEASURED = Integer.getInteger("rounds", 7);

	private record Measured(String path, String aggregate) {
	}

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
						select scar.type, last.stage, count(*), avg(depth_mm), avg(severity)
						from last join scar on scar.id = last.scar_id
						join scar_assessment a on a.scar_id = last.scar_id and a.assessed_on = last.day
						group by 1, 2)
					select (select count(*) from scars), (select count(*) from face), (select count(*) from pores)"""),
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
					select kind, count(distinct session_id), count(distinct finding.patient_id), (select count(*) from session)
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
		var data = Files.createTempDirectory("seriatim-outcome-pages");
		try (var service = new SpringApplication(SeriatimApplication.class).run("--server.port=0",
				"--seriatim.data=" + data, "--seriatim.requests.of-account=1000000", "--logging.level.root=warn")) {
			var bundle = data.resolve("generated");
			InventedClinic.of(PATIENTS, 1, LocalDate.now(), ZoneOffset.UTC).writeTo(bundle);
			var started = System.nanoTime();
			if (service.getBean(BundleImport.class)
				.take(bundle, false, ImportProgress.UNWATCHED) instanceof ImportResult.Refused refused) {
				throw new IllegalStateException("the generated clinic was refused: " + refused.problems().first());
			}
			System.out.printf(Locale.ROOT, "imported, advised and computed in %.0f s%n", (System.nanoTime() - started) / 1e9);
			var database = service.getBean(JdbcClient.class);
			database.sql("analyze").update();
			measure(service, database);
		}
		finally {
			FileSystemUtils.deleteRecursively(data);
		}
		System.exit(0);
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
				aggregates.computeIfAbsent(measured, (key) -> new ArrayList<>())
					.add((System.nanoTime() - started) / 1e6);
			}
		}
		System.out.println("| Page | First ms | Median ms | Plain aggregate, median ms | Times the aggregate |");
		System.out.println("| --- | --- | --- | --- | --- |");
		pages.forEach((measured, all) -> {
			double page = median(all.subList(1, all.size()));
			double aggregate = median(aggregates.get(measured).subList(1, all.size()));
			System.out.printf(Locale.ROOT, "| `%s` | %.0f | %.0f | %.0f | %.1f |%n", measured.path(), all.get(0), page,
					aggregate, page / aggregate);
		});
		System.gc();
		var runtime = Runtime.getRuntime();
		System.out.printf(Locale.ROOT, "%nheap in use afterwards: %d MB of at most %d MB%n",
				(runtime.totalMemory() - runtime.freeMemory()) >> 20, runtime.maxMemory() >> 20);
	}

	private static String signIn(ConfigurableApplicationContext service) {
		service.getBean(AccountRegister.class).open("b.enchmark", Set.of(Role.PRACTITIONER), "long enough to be one");
		var member = service.getBean(UserDetailsService.class).loadUserByUsername("b.enchmark");
		var id = session(service.getBean(SessionRepository.class), new SecurityContextImpl(
				UsernamePasswordAuthenticationToken.authenticated(member, null, member.getAuthorities())));
		return "seriatim=" + Base64.getEncoder().encodeToString(id.getBytes(StandardCharsets.UTF_8));
	}

	@SuppressWarnings("unchecked")
	private static <S extends Session> String session(SessionRepository<?> repository, SecurityContextImpl context) {
		var sessions = (SessionRepository<S>) repository;
		var session = sessions.createSession();
		session.setAttribute(HttpSessionSecurityContextRepository.SPRING_SECURITY_CONTEXT_KEY, context);
		sessions.save(session);
		return session.getId();
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
