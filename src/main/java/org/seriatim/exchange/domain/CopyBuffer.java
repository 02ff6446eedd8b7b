package org.seriatim.exchange.domain;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.sql.Connection;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.postgresql.PGConnection;

import org.springframework.jdbc.core.ConnectionCallback;
import org.springframework.jdbc.core.JdbcTemplate;

/**
 * Gathers rows and sends them to a table by {@code COPY}, many at a time.
 */
final class CopyBuffer {

	private static final int FULL = 1 << 20;

	private final JdbcTemplate jdbc;

	private final String statement;

	private final StringBuilder rows = new StringBuilder();

	CopyBuffer(JdbcTemplate jdbc, String table, List<String> columns) {
		this.jdbc = jdbc;
		this.statement = "copy %s (%s) from stdin".formatted(table, String.join(", ", columns));
	}

	/** Adds a row, in the order of the columns, as the text that the database reads. */
	void add(List<? extends @Nullable Object> values) {
		char separator = 0;
		for (Object value : values) {
			if (separator != 0) {
				this.rows.append(separator);
			}
			append(value);
			separator = '\t';
		}
		this.rows.append('\n');
		if (this.rows.length() >= FULL) {
			flush();
		}
	}

	private void append(@Nullable Object value) {
		if (value == null) {
			this.rows.append("\\N");
			return;
		}
		String text = value.toString();
		for (int i = 0; i < text.length(); i++) {
			char c = text.charAt(i);
			switch (c) {
				case '\\' -> this.rows.append("\\\\");
				case '\t' -> this.rows.append("\\t");
				case '\n' -> this.rows.append("\\n");
				case '\r' -> this.rows.append("\\r");
				default -> this.rows.append(c);
			}
		}
	}

	/** Sends what was gathered. */
	void flush() {
		if (this.rows.isEmpty()) {
			return;
		}
		this.jdbc.execute((ConnectionCallback<Long>) (Connection connection) -> {
			try {
				return connection.unwrap(PGConnection.class)
					.getCopyAPI()
					.copyIn(this.statement, new StringReader(this.rows.toString()));
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
		});
		this.rows.setLength(0);
	}

}
