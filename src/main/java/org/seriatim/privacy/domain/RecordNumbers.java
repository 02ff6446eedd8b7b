package org.seriatim.privacy.domain;

import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.UUID;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * By which numbers the clinic knows the patients that the audit log knows by opaque id.
 */
@Service
@Transactional(readOnly = true)
public class RecordNumbers {

	private final JdbcClient database;

	RecordNumbers(JdbcClient database) {
		this.database = database;
	}

	/** Those that are not erased. */
	public Map<UUID, String> of(Collection<UUID> patients) {
		var numbers = new HashMap<UUID, String>();
		this.database.sql("select id, record_number from patient where id = any(:ids)")
			.param("ids", patients.toArray(UUID[]::new))
			.query((row) -> {
				numbers.put(row.getObject("id", UUID.class), row.getString("record_number"));
			});
		return numbers;
	}

}
