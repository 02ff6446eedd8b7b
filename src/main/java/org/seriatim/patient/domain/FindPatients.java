package org.seriatim.patient.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

import org.seriatim.access.StaffId;
import org.seriatim.patient.PatientId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Finds a patient by what somebody remembers or hears on the telephone: names in any
 * order, without accents, with typing slips; or the record number.
 */
@Service
@Transactional(readOnly = true)
public class FindPatients {

	/** More rows than anybody reads; who is not among them is found by typing more. */
	public static final int LARGEST_LIST = 25;

	private static final int RECENT = 10;

	private static final int MOST_WORDS = 6;

	/** Of the similarity of PostgreSQL's pg_trgm, from 0 to 1; tried out on names. */
	private static final double LIKENESS_OF_ONE_PERSON = 0.4;

	/** What is shorter is similar to too much. */
	private static final int SHORTEST_SIMILAR = 5;

	private static final String COLUMNS = "id, record_number, family_name, given_name, birth_date, phone";

	private static final String BEGUN_OR_SLIP = "(search_text ~ :begun# or name_keys(search_text) && name_keys(:word#))";

	private static final String BEGUN_OR_SLIP_OR_SOUND = """
			(search_text ~ :begun# or name_keys(search_text) && name_keys(:word#)
				or name_sounds(search_text) && name_sounds(:word#))""";

	private static final String SIMILAR = ":plain <% search_text";

	private final JdbcClient database;

	FindPatients(JdbcClient database) {
		this.database = database;
	}

	/** The one whose record number was typed, in upper or lower case. */
	public Optional<PatientId> withRecordNumber(String typed) {
		return this.database.sql("""
				select id from patient where record_number = :typed or lower(record_number) = lower(:typed)
				order by record_number = :typed desc limit 1""")
			.param("typed", typed.strip())
			.query(UUID.class)
			.optional()
			.map(PatientId::new);
	}

	/**
	 * The likeliest first: every word typed in full, then begun, then with one slip. Only
	 * where that finds nobody, whose name sounds alike, and only then, whose name is
	 * similar by the measure of PostgreSQL's pg_trgm.
	 */
	public List<FoundPatient> like(String typed) {
		var plain = this.database.sql("select plain_text(:typed)")
			.param("typed", typed.strip())
			.query(String.class)
			.single();
		var words = SearchWord.in(plain).stream().limit(MOST_WORDS).toList();
		if (words.isEmpty()) {
			return List.of();
		}
		var found = list(plain, words, every(words, BEGUN_OR_SLIP));
		if (found.isEmpty()) {
			found = list(plain, words, every(words, BEGUN_OR_SLIP_OR_SOUND));
		}
		if (found.isEmpty() && plain.length() >= SHORTEST_SIMILAR) {
			found = list(plain, words, SIMILAR);
		}
		return found;
	}

	private List<FoundPatient> list(String plain, List<SearchWord> words, String condition) {
		var parameters = new HashMap<String, Object>();
		for (int at = 0; at < words.size(); at++) {
			parameters.put("word" + at, words.get(at).text());
			parameters.put("whole" + at, words.get(at).whole());
			parameters.put("begun" + at, words.get(at).beginning());
		}
		return this.database
			.sql("select " + COLUMNS + " from patient where " + condition + " order by case when "
					+ every(words, "search_text ~ :whole#") + " then 0 when " + every(words, "search_text ~ :begun#")
					+ " then 1 else 2 end, word_similarity(:plain, search_text) desc, family_name, given_name, "
					+ "record_number limit :limit")
			.param("plain", plain)
			.params(parameters)
			.param("limit", LARGEST_LIST)
			.query(FindPatients::row)
			.list();
	}

	/** The condition for each word, with its number in place of the {@code #}. */
	private static String every(List<SearchWord> words, String condition) {
		return IntStream.range(0, words.size())
			.mapToObj((at) -> condition.replace("#", Integer.toString(at)))
			.collect(Collectors.joining(" and "));
	}

	/** Those whose record the member of staff opened or changed last. */
	public List<FoundPatient> recentlyOpenedBy(StaffId staff) {
		return this.database.sql("""
				select %s from patient
				join (select patient_id, max(at) as last_at from audit_entry
					where staff_id = :staff and patient_id is not null
					group by patient_id order by last_at desc limit :limit) opened on opened.patient_id = patient.id
				order by last_at desc""".formatted(COLUMNS))
			.param("staff", staff.value())
			.param("limit", RECENT)
			.query(FindPatients::row)
			.list();
	}

	/**
	 * Those who may be the person about to be registered: of the same name, or born on
	 * the same day and called similarly.
	 */
	public List<FoundPatient> possiblyTheSameAs(Identity newcomer) {
		return this.database.sql("""
				select %s from patient
				where (plain_text(coalesce(family_name, '')) = plain_text(:family)
						and plain_text(coalesce(given_name, '')) = plain_text(:given)
						and (birth_date = :born or birth_date is null or cast(:born as date) is null))
					or (birth_date = :born and similarity(plain_text(:family || ' ' || :given),
						plain_text(coalesce(family_name, '') || ' ' || coalesce(given_name, ''))) >= :least)
				order by birth_date is null, family_name, given_name, record_number
				limit 5""".formatted(COLUMNS))
			.param("family", Optional.ofNullable(newcomer.familyName()).orElse(""))
			.param("given", Optional.ofNullable(newcomer.givenName()).orElse(""))
			.param("born", newcomer.birthDate(), Types.DATE)
			.param("least", LIKENESS_OF_ONE_PERSON)
			.query(FindPatients::row)
			.list();
	}

	private static FoundPatient row(ResultSet row, int number) throws SQLException {
		return new FoundPatient(new PatientId(row.getObject("id", UUID.class)), row.getString("record_number"),
				row.getString("family_name"), row.getString("given_name"), row.getObject("birth_date", LocalDate.class),
				row.getString("phone"));
	}

}
