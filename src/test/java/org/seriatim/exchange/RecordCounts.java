package org.seriatim.exchange;

import java.util.Map;
import java.util.TreeMap;

import org.springframework.jdbc.core.JdbcTemplate;

/** What is on record, table by table, told apart by number of rows and by content. */
final class RecordCounts {

	private RecordCounts() {
	}

	/**
	 * For every table a digest over its rows; where it differs, something was changed.
	 */
	static Map<String, String> of(JdbcTemplate jdbc) {
		Map<String, String> content = new TreeMap<>();
		for (String table : jdbc.queryForList("""
				select table_name from information_schema.tables
				where table_schema = 'public' and table_type = 'BASE TABLE'""", String.class)) {
			content.put(table, jdbc.queryForObject("""
					select count(*) || ' rows ' || coalesce(md5(string_agg(r::text, '' order by r::text)), '')
					from %s r""".formatted(table), String.class));
		}
		return content;
	}

}
