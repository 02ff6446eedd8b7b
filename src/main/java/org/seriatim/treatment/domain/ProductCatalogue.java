package org.seriatim.treatment.domain;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Recorded;
import org.seriatim.access.StaffId;
import org.seriatim.shell.StaleVersion;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The products that a clinic injects and their lots. A preparation keeps what was typed
 * of them, so nothing on record changes when an entry is mended here.
 */
@Service
@Transactional
public class ProductCatalogue {

	private final JdbcClient database;

	private final AuditLog audit;

	private final CurrentStaff staff;

	private final Clock clock;

	ProductCatalogue(JdbcClient database, AuditLog audit, CurrentStaff staff, Clock clock) {
		this.database = database;
		this.audit = audit;
		this.staff = staff;
		this.clock = clock;
	}

	/** Everything, those in use first. */
	@Transactional(readOnly = true)
	public List<CatalogueProduct> all() {
		Map<UUID, List<CatalogueLot>> lots = new LinkedHashMap<>();
		this.database.sql("""
				select id, product_id, lot, expires_on, in_use, version from catalogue_lot
				order by in_use desc, expires_on, lot""").query((row) -> {
			var lot = lot(row, 0);
			lots.computeIfAbsent(lot.product(), (id) -> new ArrayList<>()).add(lot);
		});
		return this.database.sql("""
				select id, substance, vial_mg, hyaluronic_mg, in_use, version from catalogue_product
				order by in_use desc, lower(substance), vial_mg, hyaluronic_mg""")
			.query((row, index) -> product(row, lots.getOrDefault(row.getObject("id", UUID.class), List.of())))
			.list();
	}

	@Transactional(readOnly = true)
	public Optional<CatalogueProduct> product(UUID id) {
		return all().stream().filter((product) -> product.id().equals(id)).findFirst();
	}

	@Transactional(readOnly = true)
	public Optional<CatalogueLot> lot(UUID id) {
		return this.database
			.sql("select id, product_id, lot, expires_on, in_use, version from catalogue_lot where id = :id")
			.param("id", id)
			.query(ProductCatalogue::lot)
			.optional();
	}

	/**
	 * Enters a product.
	 * @throws AlreadyInCatalogue if substance and contents are those of another
	 */
	public UUID enterProduct(String substance, @Nullable BigDecimal vialMg, @Nullable BigDecimal hyaluronicMg) {
		var id = once(() -> this.database.sql("""
				insert into catalogue_product (substance, vial_mg, hyaluronic_mg, recorded_at, recorded_by)
				values (:substance, :vial, :hyaluronic, :now, :staff) returning id""")
			.param("substance", substance)
			.param("vial", vialMg, Types.NUMERIC)
			.param("hyaluronic", hyaluronicMg, Types.NUMERIC)
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", writer())
			.query(UUID.class)
			.single());
		this.audit.record(Action.CREATED, "catalogue_product", id, null);
		return id;
	}

	/**
	 * Mends a product, or takes it out of use.
	 * @param shown the version that the form showed
	 * @throws AlreadyInCatalogue if substance and contents are those of another
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	public void mendProduct(UUID id, @Nullable Long shown, String substance, @Nullable BigDecimal vialMg,
			@Nullable BigDecimal hyaluronicMg, boolean inUse) {
		requireVersion("catalogue_product", id, shown);
		once(() -> this.database.sql("""
				update catalogue_product
				set substance = :substance, vial_mg = :vial, hyaluronic_mg = :hyaluronic, in_use = :inUse,
					recorded_at = :now, recorded_by = :staff, version = version + 1
				where id = :id""")
			.param("id", id)
			.param("substance", substance)
			.param("vial", vialMg, Types.NUMERIC)
			.param("hyaluronic", hyaluronicMg, Types.NUMERIC)
			.param("inUse", inUse)
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", writer())
			.update());
		this.audit.record(Action.CORRECTED, "catalogue_product", id, null);
	}

	/**
	 * Enters a lot.
	 * @throws AlreadyInCatalogue if the product has it
	 */
	public UUID enterLot(UUID product, String lot, LocalDate expiresOn) {
		var id = once(() -> this.database.sql("""
				insert into catalogue_lot (product_id, lot, expires_on, recorded_at, recorded_by)
				values (:product, :lot, :expires, :now, :staff) returning id""")
			.param("product", product)
			.param("lot", lot)
			.param("expires", expiresOn)
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", writer())
			.query(UUID.class)
			.single());
		this.audit.record(Action.CREATED, "catalogue_lot", id, null);
		return id;
	}

	/**
	 * Mends a lot, or takes it out of use.
	 * @param shown the version that the form showed
	 * @throws AlreadyInCatalogue if the product has another one of this name
	 * @throws StaleVersion if somebody else changed it in the meantime
	 */
	public void mendLot(UUID id, @Nullable Long shown, String lot, LocalDate expiresOn, boolean inUse) {
		requireVersion("catalogue_lot", id, shown);
		once(() -> this.database.sql("""
				update catalogue_lot
				set lot = :lot, expires_on = :expires, in_use = :inUse, recorded_at = :now, recorded_by = :staff,
					version = version + 1
				where id = :id""")
			.param("id", id)
			.param("lot", lot)
			.param("expires", expiresOn)
			.param("inUse", inUse)
			.param("now", OffsetDateTime.now(this.clock))
			.param("staff", writer())
			.update());
		this.audit.record(Action.CORRECTED, "catalogue_lot", id, null);
	}

	private void requireVersion(String table, UUID id, @Nullable Long shown) {
		this.database.sql("select version, recorded_at, recorded_by from %s where id = :id for update".formatted(table))
			.param("id", id)
			.query((row) -> {
				var by = row.getObject("recorded_by", UUID.class);
				StaleVersion.unlessSame(shown, row.getLong("version"),
						new Recorded(row.getObject("recorded_at", OffsetDateTime.class).toInstant(),
								(by != null) ? new StaffId(by) : null, null));
			});
	}

	private static <T> T once(java.util.function.Supplier<T> write) {
		try {
			return write.get();
		}
		catch (DuplicateKeyException ex) {
			throw new AlreadyInCatalogue();
		}
	}

	private UUID writer() {
		return this.staff.id()
			.map(StaffId::value)
			.orElseThrow(() -> new IllegalStateException("the catalogue is written by somebody"));
	}

	private static CatalogueProduct product(ResultSet row, List<CatalogueLot> lots) throws SQLException {
		return new CatalogueProduct(row.getObject("id", UUID.class), row.getString("substance"),
				row.getBigDecimal("vial_mg"), row.getBigDecimal("hyaluronic_mg"), row.getBoolean("in_use"),
				row.getLong("version"), lots);
	}

	private static CatalogueLot lot(ResultSet row, int index) throws SQLException {
		return new CatalogueLot(row.getObject("id", UUID.class), row.getObject("product_id", UUID.class),
				row.getString("lot"), row.getObject("expires_on", LocalDate.class), row.getBoolean("in_use"),
				row.getLong("version"));
	}

}
