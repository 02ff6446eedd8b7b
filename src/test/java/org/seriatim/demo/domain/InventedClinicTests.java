package org.seriatim.demo.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.TreeMap;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.support.PageTest;

import static org.assertj.core.api.Assertions.assertThat;

@PageTest
class InventedClinicTests {

	private static final LocalDate TODAY = LocalDate.of(2026, 11, 20);

	@TempDir
	Path folder;

	@Autowired
	BundleImport records;

	@Autowired
	JdbcClient database;

	@Test
	void isTheSameForTheSameSeedAndAnotherForAnother() throws IOException {
		assertThat(files("one", 30, 7)).isEqualTo(files("again", 30, 7)).isNotEqualTo(files("other", 30, 8));
	}

	@Test
	void isTakenWithoutAProblemAndHasAPatientForEachStatusOfTheAdvice() throws IOException {
		take();
		assertThat(this.database.sql("select count(*) from patient").query(Integer.class).single())
			.isEqualTo(DemoClinic.PATIENTS);
		assertThat(this.database.sql("select distinct status from advice where replaced_at is null")
			.query(String.class)
			.list()).containsExactlyInAnyOrder("hold", "wait_for_contact", "review_plan", "window");
	}

	/**
	 * The effects that the pages are meant to find are in the records, before any model
	 * looks at them.
	 */
	@Test
	void holdsThePlantedEffects() throws IOException {
		take();
		assertThat(lumpsForAHundredInjections("preparation.lot = '" + InventedClinic.LUMPY_LOT + "'"))
			.isGreaterThan(2 * lumpsForAHundredInjections("preparation.lot <> '" + InventedClinic.LUMPY_LOT + "'"));
		assertThat(bruisesForAHundredSessions("staff.name = 'o.brisk'"))
			.isGreaterThan(1.4 * bruisesForAHundredSessions("staff.name <> 'o.brisk'"));
	}

	private void take() throws IOException {
		clinic(DemoClinic.PATIENTS, DemoClinic.SEED).writeTo(this.folder);
		if (this.records.take(this.folder, false, ImportProgress.UNWATCHED) instanceof ImportResult.Refused refused) {
			assertThat(refused.problems().first()).isEmpty();
		}
	}

	private double lumpsForAHundredInjections(String where) {
		return this.database.sql("""
				with injected as (
					select injection.session_id, count(*) as injections
					from injection join preparation on preparation.id = injection.preparation_id
					where %s group by injection.session_id)
				select 100.0 * count(finding.id) / (select sum(injections) from injected)
				from injected left join finding on finding.session_id = injected.session_id and finding.kind = 'lump'
				""".formatted(where)).query(Double.class).single();
	}

	private double bruisesForAHundredSessions(String where) {
		return this.database.sql("""
				select 100.0 * count(distinct finding.session_id) / count(distinct session.id)
				from session
				join staff on staff.id = session.practitioner_id
				left join finding on finding.session_id = session.id and finding.kind = 'bruise'
				where %s""".formatted(where)).query(Double.class).single();
	}

	private static InventedClinic clinic(int patients, long seed) {
		return InventedClinic.of(patients, seed, TODAY, ZoneOffset.UTC);
	}

	private Map<String, String> files(String name, int patients, long seed) throws IOException {
		var written = this.folder.resolve(name);
		clinic(patients, seed).writeTo(written);
		var files = new TreeMap<String, String>();
		try (var paths = Files.list(written)) {
			for (Path path : (Iterable<Path>) paths::iterator) {
				files.put(path.getFileName().toString(), Files.readString(path));
			}
		}
		return files;
	}

}
