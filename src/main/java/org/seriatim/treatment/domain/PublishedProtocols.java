package org.seriatim.treatment.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.access.StaffId;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.ProtocolVersion.SkinShift;
import org.seriatim.treatment.Protocols;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
@Transactional(readOnly = true)
public class PublishedProtocols implements Protocols {

	private static final String VERSION = """
			select number, published_at, published_by, note, base_interval_days, window_days, extended_interval_days,
				persistence_threshold_days, settling_margin_days, clearing_probability, curve_minimum_lumps,
				repeatability_minimum_pairs, repeatability_minimum_patients, plateau_from_session, plateau_minimum_scars,
				skin_shift_thin_days, skin_shift_medium_days, skin_shift_thick_days, contact_days, contact_repeat_days
			from protocol_version\s""";

	private final JdbcClient database;

	private final Clock clock;

	PublishedProtocols(JdbcClient database, Clock clock) {
		this.database = database;
		this.clock = clock;
	}

	@Override
	public ProtocolVersion current() {
		return this.database.sql(VERSION + "order by number desc limit 1").query(this::version).single();
	}

	@Override
	public Optional<ProtocolVersion> byNumber(int number) {
		return this.database.sql(VERSION + "where number = :number")
			.param("number", number)
			.query(this::version)
			.optional();
	}

	@Override
	public ProtocolVersion inForceOn(LocalDate day) {
		return this.database.sql(VERSION + "where number = 1 or published_at < :endOfDay order by number desc limit 1")
			.param("endOfDay", day.plusDays(1).atStartOfDay(this.clock.getZone()).toOffsetDateTime())
			.query(this::version)
			.single();
	}

	/** All versions, newest first. */
	public List<PublishedVersion> history() {
		return this.database.sql(VERSION + "order by number desc").query((row, index) -> {
			var by = row.getObject("published_by", UUID.class);
			return new PublishedVersion(version(row, index),
					row.getObject("published_at", OffsetDateTime.class).toInstant(),
					(by != null) ? new StaffId(by) : null, row.getString("note"));
		}).list();
	}

	private ProtocolVersion version(ResultSet row, int index) throws SQLException {
		return new ProtocolVersion(row.getInt("number"),
				row.getObject("published_at", OffsetDateTime.class)
					.atZoneSameInstant(this.clock.getZone())
					.toLocalDate(),
				row.getInt("base_interval_days"), row.getInt("window_days"), row.getInt("extended_interval_days"),
				row.getInt("persistence_threshold_days"), row.getInt("settling_margin_days"),
				row.getBigDecimal("clearing_probability").doubleValue(), row.getInt("curve_minimum_lumps"),
				row.getInt("repeatability_minimum_pairs"), row.getInt("repeatability_minimum_patients"),
				row.getInt("plateau_from_session"), row.getInt("plateau_minimum_scars"),
				new SkinShift(row.getInt("skin_shift_thin_days"), row.getInt("skin_shift_medium_days"),
						row.getInt("skin_shift_thick_days")),
				contactDays(row), row.getInt("contact_repeat_days"));
	}

	private static List<Integer> contactDays(ResultSet row) throws SQLException {
		return Arrays.asList((Integer[]) row.getArray("contact_days").getArray());
	}

}
