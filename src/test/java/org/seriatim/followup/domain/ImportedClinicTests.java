package org.seriatim.followup.domain;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

import org.seriatim.access.Role;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.followup.StandingAdvice;
import org.seriatim.support.Expected;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.PageTest;
import org.seriatim.support.SampleClinic;
import org.seriatim.support.TestStaff;
import org.seriatim.treatment.Protocols;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * The sample clinic imported as anybody would, on its day, 2026-11-20: what is kept, what
 * the desk gets, and what a computation from scratch gives are all the expected advice.
 */
@PageTest
@OneDatabase
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ImportedClinicTests {

	private static final LocalDate DAY = LocalDate.of(2026, 11, 20);

	@Autowired
	private BundleImport bundles;

	@Autowired
	private FollowUpList followUps;

	@Autowired
	private GivenAdvice given;

	@Autowired
	private RecordedFacts facts;

	@Autowired
	private Snapshots snapshots;

	@Autowired
	private Protocols protocols;

	@Autowired
	private KeepAdviceCurrent keep;

	@Autowired
	private MockMvcTester pages;

	@Autowired
	private TestStaff staff;

	@BeforeAll
	void importTheSampleClinic() {
		assertThat(this.bundles.take(Path.of("src/test/resources/sample-clinic"), false, ImportProgress.UNWATCHED))
			.isInstanceOf(ImportResult.Taken.class);
	}

	@Test
	void keepsTheExpectedAdviceOfEverySeries() {
		assertThat(this.followUps.current()
			.stream()
			.map((row) -> SampleClinicAdviceTests.row(row.recordNumber(), row.standing().advice())))
			.containsExactlyElementsOf(Expected.advice());
	}

	@Test
	void keepsWhatAComputationFromScratchGives() {
		var figures = this.snapshots.latest().orElseThrow().figures();
		var scratch = this.facts.openSeries(this.facts.patientsWithOpenSeries(DAY), DAY)
			.stream()
			.flatMap((series) -> IntervalAdvice
				.advise(series.facts(), this.protocols.current(), figures.curve(), figures.ratings())
				.stream())
			.toList();

		assertThat(scratch).hasSize(138);
		assertThat(this.followUps.current().stream().map((row) -> row.standing().advice()))
			.containsExactlyElementsOf(scratch);
	}

	@Test
	void canComputeEveryAdviceAgainAsItWas() {
		assertThat(this.followUps.current())
			.allSatisfy((row) -> assertThat(this.given.asItWas(row.standing().id())).contains(row.standing().advice()));
	}

	@Test
	void readsTheSameFactsAsTheFilesHave() {
		var fromFiles = SampleClinic.read()
			.series()
			.stream()
			.map((series) -> series.facts().asOf(DAY))
			.filter((series) -> series.endedOn() == null)
			.toList();
		var fromRecord = this.facts.openSeries(this.facts.patientsWithOpenSeries(DAY), DAY)
			.stream()
			.map(RecordedSeries::facts)
			.toList();

		assertThat(fromRecord).hasSameSizeAs(fromFiles);
		for (int i = 0; i < fromFiles.size(); i++) {
			var record = fromRecord.get(i);
			var file = fromFiles.get(i);
			assertThat(record.skinThickness()).isEqualTo(file.skinThickness());
			assertThat(record.assessedOn()).isEqualTo(file.assessedOn());
			assertThat(record.sessions())
				.usingRecursiveFieldByFieldElementComparatorOnFields("number", "treatedOn", "painNrs")
				.containsExactlyElementsOf(file.sessions());
			assertThat(record.lastSession().orElseThrow().injections())
				.usingRecursiveFieldByFieldElementComparatorOnFields("region", "layer", "points", "volumeMl", "painNrs")
				.containsExactlyElementsOf(file.lastSession().orElseThrow().injections());
			assertThat(record.findings())
				.usingRecursiveFieldByFieldElementComparatorOnFields("kind", "region", "scarLabel", "firstNotedOn",
						"grade", "serious", "goneOn", "closedOn")
				.containsExactlyInAnyOrderElementsOf(file.findings());
			assertThat(record.findings().stream().flatMap((finding) -> finding.observations().stream()))
				.containsExactlyInAnyOrderElementsOf(
						file.findings().stream().flatMap((finding) -> finding.observations().stream()).toList());
			assertThat(record.contacts())
				.usingRecursiveFieldByFieldElementComparatorOnFields("contactedOn", "outcome", "lumpsPresent")
				.containsExactlyInAnyOrderElementsOf(file.contacts());
			assertThat(record.scars().stream().flatMap((scar) -> scar.ratings().stream()))
				.containsExactlyInAnyOrderElementsOf(file.scars()
					.stream()
					.flatMap((scar) -> scar.ratings().stream())
					.filter((rating) -> rating.depthMm() != null || rating.severity() != null)
					.toList());
		}
	}

	@Test
	void readsAllSeriesWithAsManyStatementsAsOne() {
		var all = this.facts.patientsWithOpenSeries(DAY);

		assertThat(statementsOf(() -> this.facts.openSeries(all.subList(0, 1), DAY))).isEqualTo(10);
		assertThat(statementsOf(() -> this.facts.openSeries(all, DAY))).isEqualTo(10);
	}

	private static long statementsOf(Runnable reading) {
		var logger = (Logger) LoggerFactory.getLogger(JdbcTemplate.class);
		var before = logger.getLevel();
		var statements = new ListAppender<ILoggingEvent>();
		statements.start();
		logger.setLevel(Level.DEBUG);
		logger.addAppender(statements);
		try {
			reading.run();
			return statements.list.stream()
				.filter((event) -> event.getMessage().startsWith("Executing prepared SQL statement"))
				.count();
		}
		finally {
			logger.detachAppender(statements);
			logger.setLevel(before);
		}
	}

	@Test
	void computesTheSameFiguresAsFromTheFiles() {
		var figures = this.snapshots.latest().orElseThrow().figures();
		var clinic = SampleClinic.read();

		assertThat(figures.curve().lumps()).isEqualTo(640);
		assertThat(figures.curve().patients()).isEqualTo(169);
		assertThat(figures.ratings().between()).usingRecursiveComparison()
			.withComparatorForType((one, other) -> Math.abs(one - other) < 1e-12 ? 0 : 1, Double.class)
			.isEqualTo(clinic.ratings(DAY).between());
		assertThat(figures.ratings().within().pairs()).isEqualTo(42);
	}

	@Test
	void givesTheExpectedAdviceAsCsv() {
		var result = this.pages.get()
			.uri("/follow-up/advice.csv?on=2026-11-20")
			.with(this.staff.as(Role.CLINIC_LEAD))
			.exchange();
		assertThat(result).hasStatusOk();
		var lines = new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8).lines().toList();

		assertThat(lines.get(0)).isEqualTo("record_number,session_number,treated_on,status,rules,first_day,target_day,"
				+ "last_day,first_day_if_lump_persisted");
		assertThat(lines.subList(1, lines.size())).containsExactlyElementsOf(Expected.advice().stream().map((row) -> {
			var first = Objects.toString(row.get("first"), "");
			return String.join(",", row.get("record_number").toString(), row.get("session").toString(),
					row.get("treated_on").toString(), row.get("status").toString(),
					String.join(";", ((List<?>) row.get("rules")).stream().map(Object::toString).toList()), first,
					first, Objects.toString(row.get("last"), ""),
					Objects.toString(row.get("first_if_lump_persisted"), ""));
		}).toList());
	}

	@Test
	void leavesEveryAdviceAsItStandsWhenNothingHasChanged() {
		var before = this.followUps.current().stream().map(FollowUp::standing).map(StandingAdvice::id).toList();
		this.keep.withNewSnapshot();

		assertThat(this.followUps.current().stream().map(FollowUp::standing).map(StandingAdvice::id))
			.containsExactlyElementsOf(before);
	}

}
