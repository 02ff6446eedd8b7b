package org.seriatim.access.web;

import java.io.IOException;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Base64;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.Role;
import org.seriatim.access.web.RawRequest.Answer;
import org.seriatim.access.domain.SignIns;
import org.seriatim.access.domain.SignedIn;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.SampleBundle;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.ServedTest;
import org.seriatim.support.TestStaff;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.http.HttpMethod;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.core.context.SecurityContextImpl;
import org.springframework.security.web.context.HttpSessionSecurityContextRepository;
import org.springframework.session.Session;
import org.springframework.session.SessionRepository;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Ten thousand requests that nobody in his right mind would send, over every address of
 * the table of routes, as each role and as nobody, through the real server: none is
 * answered with a fault of ours, with what an exception says, or with anything of a
 * patient who was not asked for.
 * <p>
 * The seed is fixed; {@code -Dhostile.seed} and {@code -Dhostile.requests} try others.
 */
@ServedTest
@OneDatabase
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class HostileRequestTests {

	private static final long SEED = Long.getLong("hostile.seed", 20_261_127L);

	private static final int REQUESTS = Integer.getInteger("hostile.requests", 10_000);

	/** Of the right form, and of no password. */
	private static final String PASSWORD = "{pbkdf2}" + "0".repeat(96);

	/** Enough to see a pattern. */
	private static final int MOST_FAULTS = 25;

	private static final List<String> RECORD_NUMBERS = List.of("K14-00001", "K14-00003", "K14-00005", "K14-00008",
			"K14-00013", "K14-00021");

	private static final Pattern RECORD_NUMBER = Pattern.compile("K14-\\d{5}");

	/** Addresses of one patient, or of something of one patient. */
	private static final Set<String> OF_ONE_PATIENT = Set.of("patient", "series", "session", "scar", "finding",
			"contact", "draft", "advice", "entry");

	private static final Pattern VARIABLE = Pattern.compile("\\{([a-z]+)}");

	private static final Pattern FAULT = Pattern.compile(
			"java\\.(lang|util|io|sql)\\.|org\\.(springframework|postgresql|hibernate|apache|thymeleaf|seriatim)\\.|Exception\\b|\\tat |Caused by|SQLSTATE|Whitelabel|PSQL");

	private static final Pattern FIELD = Pattern.compile("<(?:input|select|textarea|button)[^>]*?\\sname=\"([^\"]+)\"");

	private static final Pattern TOKEN = Pattern.compile("name=\"csrf\" content=\"([^\"]+)\"");

	private static final List<String> METHODS = List.of("GET", "POST", "PUT", "DELETE", "PATCH", "HEAD", "OPTIONS",
			"TRACE", "PROPFIND", "get", "G\u0000T");

	private static final List<String> SCRAPS = List.of("", " ", "0", "-1", "1", "2", "3.5", "1,5", "1e999", "NaN",
			"999999999999999999999", "yes", "no", "on", "true", "null", "undefined", "2026-11-20", "2026-02-30",
			"0000-00-00", "9999-12-31", "+999999999-12-31", "20.11.2026", "lump", "infection_spreading", "chin", "open",
			"completed", "deep_dermis", "phone", "PRACTITIONER", "clinic_lead", "first-day", "-first-day", "region",
			"layer", "none", "../../etc/passwd", "..\\..\\", "%00", "\u0000", "\u202Eright", "\uD83D\uDE00", "ä",
			"<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "'; drop table patient; --", "${7*7}",
			"#{7*7}", "__${7*7}__::.x", "{{7*7}}", "\r\nSet-Cookie: a=b", "K14-00002", "{\"a\":1}", "[]", "@Setter");

	private static final List<String> IDS = List.of("01980000-0000-7000-8000-000000000000",
			"00000000-0000-0000-0000-000000000000", "1-1-1-1-1", "not-an-id", "%00", "%2e%2e%2f", "..;", "..%5c",
			"a;b=c", "%", "%zz", "%c3%28", "%f0%9f%98%80", "%F0%9F", "'", "x".repeat(300), "-1", "2026-11-20",
			"9999999-01-01", "null", "a%2fb", "%0d%0aX: y", "~", "*");

	private static final List<String> HEADERS = List.of("HX-Request: true", "HX-Request: true\r\nHX-Boosted: true",
			"HX-Request: true\r\nHX-Target: %00", "Accept: application/json", "Accept: text/csv", "Accept: */*;q=x",
			"Accept: application/problem+json", "Accept-Language: xx-\u00FF", "Accept-Language: de;q=9",
			"Accept-Encoding: gzip, \u00FF", "Range: bytes=0-1", "Range: bytes=9-1,-5,x",
			"If-Modified-Since: yesterday", "If-None-Match: \"", "Authorization: Bearer ",
			"Authorization: Bearer x.y.z", "Authorization: Basic %%%", "Cookie: seriatim=AAAA",
			"Cookie: seriatim=\"; a=\u0001", "X-Forwarded-For: 1.2.3.4, x", "X-Forwarded-Proto: gopher",
			"X-HTTP-Method-Override: DELETE", "Origin: null", "Expect: 100-continue", "Content-Encoding: gzip",
			"Transfer-Encoding: chunked", "Upgrade: h2c", "Host: localhost:99999", "Host: localhost\u0000",
			"X-Long: " + "y".repeat(9_000), "Content-Length: 5");

	private static final List<String> CONTENT_TYPES = List.of("application/x-www-form-urlencoded",
			"application/x-www-form-urlencoded; charset=utf-16", "application/x-www-form-urlencoded; charset=nonsense",
			"application/json", "text/plain", "multipart/form-data", "multipart/form-data; boundary=", "a/b/c", "",
			"application/octet-stream");

	@Autowired
	private BundleImport bundles;

	@Autowired
	private TestStaff staff;

	@Autowired
	private JdbcClient database;

	@Autowired
	private SessionRepository<? extends Session> sessions;

	@Autowired
	private SignIns signIns;

	@LocalServerPort
	private int port;

	private final Random random = new Random(SEED);

	/** By the name of a variable: what it may be, with the record number behind it. */
	private final Map<String, Map<String, String>> known = new HashMap<>();

	private final Map<String, List<String>> fields = new HashMap<>();

	@BeforeAll
	void importAFewPatients(@TempDir Path folder) {
		var bundle = SampleBundle.whole();
		bundle.files().keySet().forEach((file) -> bundle.edit(file, HostileRequestTests::ofAFewPatients));
		assertThat(this.bundles.take(bundle.writeTo(folder), false, ImportProgress.UNWATCHED))
			.isInstanceOf(ImportResult.Taken.class);
		know("patient", "select id, record_number from patient");
		for (var table : List.of("series", "session", "scar", "finding", "contact")) {
			know(table, "select t.id, record_number from " + table + " t join patient p on p.id = t.patient_id");
		}
		know("advice", """
				select a.id, record_number from advice a
					join series s on s.id = a.series_id join patient p on p.id = s.patient_id""");
		this.known.put("entry", this.known.get("scar"));
		this.known.put("assessor",
				this.database.sql("select cast(id as text) from staff")
					.query(String.class)
					.list()
					.stream()
					.collect(Collectors.toMap((id) -> id, (id) -> "")));
		this.known.put("kind", Map.of("scar", "", "series", "", "session", "", "finding", "", "patient", "", "x", ""));
		this.known.put("day", Map.of("2026-01-05", "", "2026-11-20", ""));
	}

	/* The header, and every row that names one of the patients or a finding of theirs. */
	private static String ofAFewPatients(String text) {
		var findings = SampleBundle.rows(SampleBundle.FOLDER.resolve("findings.csv"))
			.stream()
			.filter((row) -> RECORD_NUMBERS.contains(row.get("record_number")))
			.map((row) -> row.get("finding"))
			.collect(Collectors.toCollection(HashSet::new));
		var header = text.substring(0, text.indexOf('\n') + 1);
		return header + text.substring(header.length())
			.lines()
			.filter((line) -> Arrays.stream(line.split(",", 3))
				.anyMatch((cell) -> RECORD_NUMBERS.contains(cell) || findings.contains(cell)))
			.map((line) -> line + "\n")
			.collect(Collectors.joining());
	}

	private void know(String variable, String query) {
		var ids = new LinkedHashMap<String, String>();
		this.database.sql(query + " order by 2, 1").query((row) -> {
			ids.put(row.getString(1), row.getString(2));
		});
		assertThat(ids).as(variable).isNotEmpty();
		this.known.put(variable, ids);
	}

	@Test
	void answersEachWithoutAFaultOfOursAndWithNothingOfAnother() throws IOException {
		var routes = Routes.all();
		var everyRole = Role.values();
		var statuses = new TreeMap<Integer, Integer>();
		var faults = new ArrayList<String>();
		var person = new Person(null, "", "");
		for (int round = 0; round < REQUESTS && faults.size() < MOST_FAULTS; round++) {
			if (round % 40 == 0) {
				var which = this.random.nextInt(everyRole.length + 1);
				person = (which < everyRole.length) ? signIn(everyRole[which]) : new Person(null, "", "");
			}
			// every address in turn, so that none is left to chance
			var route = routes.get(round % routes.size());
			var asked = new HashSet<String>();
			var request = request(route, person, asked);
			var answer = request.send(this.port);
			statuses.merge(answer.status(), 1, Integer::sum);
			var fault = fault(route, person.role(), asked, request, answer);
			if (fault != null) {
				faults.add(fault + " to " + person.role() + ", who asked " + request);
			}
		}
		assertThat(faults).as("with the seed " + SEED).isEmpty();
		assertThat(statuses).containsKeys(200, 302, 400, 403, 404, 422);
		assertThat(this.database.sql("select record_number from patient").query(String.class).list())
			.containsAll(RECORD_NUMBERS);
	}

	private static @Nullable String fault(Routes.Route route, @Nullable Role role, Collection<String> asked,
			RawRequest request, Answer answer) {
		if (answer.status() < 200 || answer.status() > 499) {
			return "status " + answer.status();
		}
		var telling = FAULT.matcher(answer.body());
		if (telling.find()) {
			return "status " + answer.status() + " with the words " + telling.group();
		}
		var seen = RECORD_NUMBER.matcher(answer.body())
			.results()
			.map((found) -> found.group())
			.filter(RECORD_NUMBERS::contains)
			.collect(Collectors.toSet());
		if (role == null || !route.roles().contains(role)) {
			return seen.isEmpty() ? null : "records " + seen;
		}
		var ofOne = VARIABLE.matcher(route.pattern())
			.results()
			.anyMatch((variable) -> OF_ONE_PATIENT.contains(variable.group(1)));
		return (ofOne && !asked.containsAll(seen)) ? "records " + seen : null;
	}

	private record Person(@Nullable Role role, String cookie, String token) {
	}

	private Person signIn(Role role) throws IOException {
		var cookie = "Cookie: seriatim="
				+ Base64.getEncoder().encodeToString(signedIn(this.sessions, role).getBytes(StandardCharsets.UTF_8));
		var page = new RawRequest("GET", "/password", List.of(cookie), new byte[0]).send(this.port);
		var token = TOKEN.matcher(page.body());
		assertThat(token.find()).as(page.head()).isTrue();
		return new Person(role, cookie, "X-CSRF-TOKEN: " + token.group(1));
	}

	private <S extends Session> String signedIn(SessionRepository<S> repository, Role role) {
		var session = repository.createSession();
		var signedIn = this.staff.signedIn(role);
		this.database.sql("update account set password = :password").param("password", PASSWORD).update();
		session.setAttribute(HttpSessionSecurityContextRepository.SPRING_SECURITY_CONTEXT_KEY,
				new SecurityContextImpl(signedIn));
		session.setAttribute(SignIns.ATTRIBUTE,
				this.signIns.begin(((SignedIn) signedIn.getPrincipal()).account(), "127.0.0.1", "none").toString());
		session.setLastAccessedTime(Instant.now());
		repository.save(session);
		return session.getId();
	}

	private RawRequest request(Routes.Route route, Person person, Collection<String> asked) throws IOException {
		var headers = new ArrayList<String>();
		if (person.role() != null) {
			headers.add(person.cookie());
		}
		if (chance(9, 10)) {
			headers.add(person.token().isEmpty() ? "X-CSRF-TOKEN: none" : person.token());
		}
		if (chance(1, 4)) {
			headers.add(one(HEADERS));
		}
		var method = chance(9, 10) ? route.method().name() : one(METHODS);
		var address = address(route, asked);
		var names = fields(route, person, address);
		if (!method.equals("POST") || chance(1, 20)) {
			return new RawRequest(method, address + query(names), headers, new byte[0]);
		}
		return withBody(new RawRequest(method, address, headers, new byte[0]), names);
	}

	private String address(Routes.Route route, Collection<String> asked) {
		var address = VARIABLE.matcher(route.pattern()).replaceAll((variable) -> {
			var ids = this.known.get(variable.group(1));
			if (ids == null || chance(1, 4)) {
				return java.util.regex.Matcher.quoteReplacement(one(IDS));
			}
			var id = one(List.copyOf(ids.keySet()));
			asked.add(ids.get(id));
			return id;
		}).replace("/**", "/" + one(IDS));
		return switch (this.random.nextInt(30)) {
			case 0 -> address + "/";
			case 1 -> address + ";jsessionid=1";
			case 2 -> "/" + address;
			case 3 -> address.replaceFirst("/", "/./");
			case 4 -> address + "/..";
			case 5 -> address.toUpperCase(java.util.Locale.ROOT);
			case 6 -> address + "%20";
			case 7 -> address + ".csv";
			case 8 -> "http://localhost" + address;
			default -> address;
		};
	}

	/*
	 * The names of the form behind the address, as its page has them, once for each
	 * route.
	 */
	private List<String> fields(Routes.Route route, Person person, String address) throws IOException {
		var names = this.fields.get(route.pattern());
		if (names == null && person.role() != null && route.roles().contains(person.role()) && Routes.all()
			.stream()
			.anyMatch((other) -> other.method().equals(HttpMethod.GET) && other.pattern().equals(route.pattern()))) {
			var page = new RawRequest("GET", address, List.of(person.cookie()), new byte[0]).send(this.port);
			if (page.status() == 200) {
				names = FIELD.matcher(page.body()).results().map((found) -> found.group(1)).distinct().toList();
				this.fields.put(route.pattern(), names);
			}
		}
		return (names != null && !names.isEmpty()) ? names : List.of("name", "reason", "version", "status", "from",
				"to", "group", "sort", "page", "on", "rows[0].day", "file", "roles");
	}

	private String query(List<String> names) {
		return chance(1, 2) ? "" : "?" + pairs(names, this.random.nextInt(6));
	}

	private String pairs(List<String> names, int count) {
		var pairs = new StringBuilder();
		for (int pair = 0; pair < count; pair++) {
			var text = switch (this.random.nextInt(12)) {
				case 0 -> "%";
				case 1 -> "%c3%28";
				case 2 -> "x".repeat(3_000);
				default -> URLEncoder.encode(one(SCRAPS), StandardCharsets.UTF_8);
			};
			pairs.append(pairs.isEmpty() ? "" : "&").append(name(names)).append('=').append(text);
		}
		return pairs.toString();
	}

	private String name(List<String> names) {
		var name = one(names);
		return URLEncoder.encode(switch (this.random.nextInt(15)) {
			case 0 -> name + "[0]";
			case 1 -> name + "[-1]";
			case 2 -> name + "[99999999]";
			case 3 -> name + ".class.classLoader";
			case 4 -> "_" + name;
			default -> name;
		}, StandardCharsets.UTF_8);
	}

	private RawRequest withBody(RawRequest request, List<String> names) {
		return switch (this.random.nextInt(12)) {
			case 0 -> body(request, one(CONTENT_TYPES), random(this.random.nextInt(400)));
			case 1 -> body(request, one(CONTENT_TYPES), pairs(names, 4).getBytes(StandardCharsets.UTF_8));
			case 2 -> body(request, "multipart/form-data; boundary=b", parts(names, true));
			case 3 -> body(request, "multipart/form-data; boundary=b", parts(names, false));
			case 4 -> (this.random.nextInt(10) == 0)
					? body(request, CONTENT_TYPES.get(0),
							("reason=" + "z".repeat(3_000_000)).getBytes(StandardCharsets.UTF_8))
					: body(request, CONTENT_TYPES.get(0), pairs(names, 300).getBytes(StandardCharsets.UTF_8));
			default -> body(request, CONTENT_TYPES.get(0), pairs(names, names.size()).getBytes(StandardCharsets.UTF_8));
		};
	}

	private byte[] parts(List<String> names, boolean whole) {
		var parts = new StringBuilder();
		for (int part = this.random.nextInt(4); part >= 0; part--) {
			parts.append("--b\r\nContent-Disposition: form-data; name=\"").append(one(names)).append('"');
			if (chance(1, 2)) {
				parts.append("; filename=\"")
					.append(one(IDS))
					.append("\"\r\nContent-Type: ")
					.append(one(CONTENT_TYPES));
			}
			parts.append("\r\n\r\n").append(one(SCRAPS)).append("\r\n");
		}
		return parts.append(whole ? "--b--\r\n" : "--b\r\nContent-Dis").toString().getBytes(StandardCharsets.UTF_8);
	}

	private static RawRequest body(RawRequest request, String type, byte[] body) {
		return new RawRequest(request.method(), request.target(), request.with("Content-Type: " + type).headers(),
				body);
	}

	private byte[] random(int length) {
		var bytes = new byte[length];
		this.random.nextBytes(bytes);
		return bytes;
	}

	private boolean chance(int times, int of) {
		return this.random.nextInt(of) < times;
	}

	private <T> T one(List<T> things) {
		return things.get(this.random.nextInt(things.size()));
	}

}
