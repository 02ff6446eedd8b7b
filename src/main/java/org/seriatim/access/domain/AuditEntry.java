package org.seriatim.access.domain;

import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.UUID;

import org.jspecify.annotations.Nullable;

/**
 * One row of the audit log, as it is marked and sealed.
 *
 * @param at to the microsecond, as the database keeps it
 * @param uid what makes it unlike any other; none in an entry of before marks were made
 */
record AuditEntry(Instant at, @Nullable UUID staff, String action, String kind, @Nullable UUID entry,
		@Nullable UUID patient, @Nullable String detail, @Nullable String origin, @Nullable UUID originId,
		@Nullable String command, @Nullable String address, @Nullable UUID emergency, @Nullable UUID uid) {

	/** The columns that {@link #read} wants, of a table called {@code e}. */
	static final String COLUMNS = """
			e.id, e.at, e.staff_id, e.action, e.kind, e.entry_id, e.patient_id, e.detail, e.origin, e.origin_id, e.command,
			e.address, e.emergency_id, e.uid, e.mark""";

	/** Of the form in which the fields are written one after the other. */
	private static final int FORM = 1;

	private static final int NONE = -1;

	AuditEntry {
		at = at.truncatedTo(ChronoUnit.MICROS);
	}

	static AuditEntry read(ResultSet row) throws SQLException {
		return new AuditEntry(row.getObject("at", OffsetDateTime.class).toInstant(),
				row.getObject("staff_id", UUID.class), row.getString("action"), row.getString("kind"),
				row.getObject("entry_id", UUID.class), row.getObject("patient_id", UUID.class), row.getString("detail"),
				row.getString("origin"), row.getObject("origin_id", UUID.class), row.getString("command"),
				row.getString("address"), row.getObject("emergency_id", UUID.class), row.getObject("uid", UUID.class));
	}

	/**
	 * Every field with its length, so that no two entries look alike and nothing can move
	 * from one field to the next.
	 */
	byte[] content() {
		var bytes = new ByteArrayOutputStream(256);
		try (var out = new DataOutputStream(bytes)) {
			out.writeByte(FORM);
			out.writeLong(ChronoUnit.MICROS.between(Instant.EPOCH, this.at));
			write(out, this.staff);
			write(out, this.action);
			write(out, this.kind);
			write(out, this.entry);
			write(out, this.patient);
			write(out, this.detail);
			write(out, this.origin);
			write(out, this.originId);
			write(out, this.command);
			write(out, this.address);
			write(out, this.emergency);
			write(out, this.uid);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return bytes.toByteArray();
	}

	private static void write(DataOutputStream out, @Nullable String text) throws IOException {
		if (text == null) {
			out.writeInt(NONE);
			return;
		}
		var bytes = text.getBytes(StandardCharsets.UTF_8);
		out.writeInt(bytes.length);
		out.write(bytes);
	}

	private static void write(DataOutputStream out, @Nullable UUID id) throws IOException {
		out.writeInt((id != null) ? 2 * Long.BYTES : NONE);
		if (id != null) {
			out.writeLong(id.getMostSignificantBits());
			out.writeLong(id.getLeastSignificantBits());
		}
	}

}
