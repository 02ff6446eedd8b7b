package org.seriatim.record;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.Base64;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

import com.sun.management.OperatingSystemMXBean;
import org.seriatim.SeriatimApplication;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientId;
import org.seriatim.patient.PatientRecordChanged;
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
 * How long the page of a long series takes among 5,000 patients: the whole service on its
 * embedded database in a folder of its own, asked over a connection, so that the figures
 * hold everything that a browser waits for but the network.
 * <p>
 * The baselines of the same run are the page of a series with one session and three
 * scars, and a page of the same shell with nothing in it. The processor time is that of
 * the service, the asking client included and the database's own processes left out.
 */
final class SeriesPageBenchmark {

	private static final int PATIENTS = Integer.getInteger("patients", 5_000);

	private static final int WARM_UP = 400;

	private static final int MEASURED = 500;

	private static final OperatingSystemMXBean PROCESS = ManagementFactory
		.getPlatformMXBean(OperatingSystemMXBean.class);

	private SeriesPageBenchmark() {
	}

	public static void main(String[] args) throws Exception {
		var data = Files.createTempDirectory("seriatim-series-page");
		try (var service = new SpringApplication(SeriatimApplication.class).run("--server.port=0",
				"--seriatim.data=" + data, "--seriatim.requests.of-account=1000000",
				"--logging.level.root=warn")) {
			var database = service.getBean(JdbcClient.class);
			LongRecord.insert(database, "B-", PATIENTS - 2, 8, 4);
			LongRecord.insert(database, "L-", 1, 60, 12);
			LongRecord.insert(database, "S-", 1, 3, 1);
			database.sql("analyze").update();
			for (var prefix : List.of("L-", "S-")) {
				var patient = database.sql("select id from patient where record_number like ? || '%'")
					.param(prefix)
					.query(UUID.class)
					.single();
				service.publishEvent(new PatientRecordChanged(new PatientId(patient)));
			}
			measure(service, database);
		}
		finally {
			FileSystemUtils.deleteRecursively(data);
		}
		System.exit(0);
	}

	private static void measure(ConfigurableApplicationContext service, JdbcClient database)
			throws IOException, InterruptedException {
		var address = "http://localhost:" + service.getEnvironment().getProperty("local.server.port");
		var cookie = signIn(service);
		Map<String, URI> pages = new LinkedHashMap<>();
		pages.put("series of 12 sessions and 60 scars", page(address, LongRecord.firstSeries(database, "L-")));
		pages.put("series of 1 session and 3 scars (baseline)", page(address, LongRecord.firstSeries(database, "S-")));
		pages.put("page of the shell alone (baseline)", URI.create(address + "/password"));
		var client = HttpClient.newHttpClient();
		Map<String, List<Long>> nanos = new LinkedHashMap<>();
		Map<String, Long> processor = new LinkedHashMap<>();
		pages.keySet().forEach((name) -> nanos.put(name, new ArrayList<>()));
		for (int round = 0; round < WARM_UP + MEASURED; round++) {
			for (var page : pages.entrySet()) {
				var request = HttpRequest.newBuilder(page.getValue()).header("Cookie", cookie).build();
				var busy = PROCESS.getProcessCpuTime();
				var started = System.nanoTime();
				var answer = client.send(request, BodyHandlers.ofByteArray());
				var taken = System.nanoTime() - started;
				busy = PROCESS.getProcessCpuTime() - busy;
				if (answer.statusCode() != 200) {
					throw new IllegalStateException(page.getKey() + " answered " + answer.statusCode());
				}
				if (round >= WARM_UP) {
					nanos.get(page.getKey()).add(taken);
					processor.merge(page.getKey(), busy, Long::sum);
				}
			}
		}
		report(database, nanos, processor);
	}

	private static URI page(String address, UUID series) {
		return URI.create(address + "/series/" + series);
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

	private static void report(JdbcClient database, Map<String, List<Long>> nanos, Map<String, Long> processor) {
		System.out.printf(Locale.ROOT, "%,d patients, %,d assessments of scars, %,d injections, %,d observations%n%n",
				count(database, "patient"), count(database, "scar_assessment"), count(database, "injection"),
				count(database, "finding_observation"));
		System.out.println("| Page | Median ms | 95th percentile ms | Slowest ms | Times the shell alone | Processor ms |");
		System.out.println("| --- | --- | --- | --- | --- | --- |");
		var shell = quantile(nanos.get("page of the shell alone (baseline)"), 0.5);
		nanos.forEach((name, all) -> System.out.printf(Locale.ROOT, "| %s | %.1f | %.1f | %.1f | %.1f | %.1f |%n", name,
				quantile(all, 0.5), quantile(all, 0.95), quantile(all, 1), quantile(all, 0.5) / shell,
				processor.get(name) / 1e6 / all.size()));
	}

	private static long count(JdbcClient database, String table) {
		return database.sql("select count(*) from " + table).query(Long.class).single();
	}

	/** In milliseconds. */
	private static double quantile(List<Long> nanos, double share) {
		var sorted = new ArrayList<>(nanos);
		Collections.sort(sorted);
		return sorted.get((int) Math.ceil(share * sorted.size()) - 1) / 1e6;
	}

}
