package org.seriatim.backup.domain;

import java.io.BufferedOutputStream;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;
import javax.sql.DataSource;

import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.access.AccountRegister;
import org.seriatim.access.AuditLog;
import org.seriatim.access.InstallationKey;
import org.seriatim.access.Role;
import org.seriatim.backup.domain.BackupRefused.Reason;
import org.seriatim.database.RecordsDatabase;
import org.seriatim.database.RecordsOwner;
import org.seriatim.database.ServiceRights;
import org.seriatim.exchange.BundleExport;
import org.seriatim.exchange.BundleImport;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportResult;
import org.seriatim.exchange.SampleBundle;
import org.seriatim.support.PageTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.support.TransactionOperations;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/** A clinic loses its machine and not its records. */
@PageTest
class BackupTests {

	private static final Passphrase PASSPHRASE = Passphrase.of("nine calm herons wade");

	/** Iterations: what is derived by many is the same, only later. */
	private static final int QUICK = 2;

	@Autowired
	private OwnerConnections connections;

	@Autowired
	private Flyway flyway;

	@Autowired
	private DataSource service;

	@Autowired
	private RecordsDatabase database;

	@Autowired
	private InstallationKey key;

	@Autowired
	private AuditLog audit;

	@Autowired
	private RecordsOwner records;

	@Autowired
	private CheckBackup check;

	@Autowired
	private BundleImport bundles;

	@Autowired
	private BundleExport export;

	@Autowired
	private AccountRegister accounts;

	@Autowired
	private JdbcTemplate jdbc;

	@Autowired
	private TransactionOperations transactions;

	@Autowired
	private Clock clock;

	@TempDir
	private Path folder;

	private Path lost;

	private Path found;

	private JdbcTemplate owner;

	private MakeBackup make;

	private RestoreBackup restore;

	private boolean forgotten;

	@BeforeEach
	void haveTwoDataFolders() throws IOException {
		this.lost = Files.createDirectory(this.folder.resolve("lost"));
		this.found = Files.createDirectory(this.folder.resolve("found"));
		var settings = new BackupSettings(null, null, List.of(LocalTime.of(2, 30)), 7, 5, 12, Duration.ofDays(2));
		this.make = new MakeBackup(this.connections, new InstallationSettings(this.lost, null), settings, this.key,
				this.check, this.clock, new KeyDerivation(QUICK));
		this.restore = new RestoreBackup(this.connections, this.database, new InstallationSettings(this.found, null),
				settings, this.key, this.audit, () -> this.forgotten = true, this.transactions, this.service);
		this.owner = new JdbcTemplate(this.records.dataSource());
	}

	@Test
	void everyRecordComesBackAndAnExportGivesTheSameBytes() throws Exception {
		take(SampleBundle.FOLDER);
		this.accounts.open("a.head", Set.of(Role.ADMINISTRATOR), "nine herons and a pike");
		this.jdbc.execute("update patient set version = version + 1, sebum = 'oily' where record_number < 'K14-00010'");
		this.export.to(this.folder.resolve("before.zip"));
		var tables = content();
		var rules = rules();
		Path file = this.folder.resolve("clinic.backup");
		Contents written = this.make.to(file, PASSPHRASE);
		assertThat(written.tables().keySet()).isEqualTo(tables.keySet());
		assertThat(this.check.of(file, PASSPHRASE)).isEqualTo(written);

		wipe();
		assertThat(this.jdbc.queryForObject("select count(*) from patient", Integer.class)).isZero();
		var restored = this.restore.from(file, PASSPHRASE);

		assertThat(restored.contents()).isEqualTo(written);
		assertThat(restored.sameKey()).isTrue();
		var after = content();
		// the restore itself is the one entry more
		assertThat(this.jdbc.queryForObject("select detail from audit_entry order by id desc limit 1", String.class))
			.startsWith("restored, made at");
		assertThat(this.forgotten).as("the end of the log that was there before").isTrue();
		this.owner.execute("delete from audit_waiting where entry_id = (select max(id) from audit_entry)");
		this.owner.execute("delete from audit_entry where detail like 'restored, made at%'");
		assertThat(content()).isEqualTo(tables);
		assertThat(after.keySet()).isEqualTo(tables.keySet());
		assertThat(rules()).isEqualTo(rules);
		this.export.to(this.folder.resolve("after.zip"));
		assertThat(this.folder.resolve("after.zip")).hasSameBinaryContentAs(this.folder.resolve("before.zip"));
	}

	@Test
	void theNextEntriesGoOnWhereTheLastOnesEnded() throws Exception {
		this.jdbc.execute("insert into staff (name) values ('a.venn')");
		this.audit.record(AuditLog.Action.ADMINISTERED, "protocol", null, null);
		long last = this.jdbc.queryForObject("select max(id) from audit_entry", Long.class);
		Path file = this.folder.resolve("clinic.backup");
		this.make.to(file, PASSPHRASE);
		wipe();
		this.restore.from(file, PASSPHRASE);
		assertThat(this.jdbc.queryForObject("select max(id) from audit_entry", Long.class)).isEqualTo(last + 1);
	}

	@Test
	void theKeyAndEveryFileComeBackButNothingOfTheMachine() throws IOException, SQLException {
		for (String name : List.of("service.key", "photographs/ab/one.jpg", "photographs/ä \t%.jpg", "empty")) {
			write(this.lost.resolve(name), name);
		}
		for (String name : List.of("postgresql/PG_VERSION", "logs/mon.log", "service.lock", "service.properties",
				"programs/bin", "backups/old.backup", "demo/service.lock", "demo/service.key")) {
			write(this.lost.resolve(name), name);
		}
		Files.write(this.lost.resolve("empty"), new byte[0]);
		write(this.found.resolve("service.key"), "the new one");
		write(this.found.resolve("service.lock"), "mine");
		Path file = this.folder.resolve("clinic.backup");
		this.make.to(file, PASSPHRASE);
		wipe();
		this.restore.from(file, PASSPHRASE);
		assertThat(files(this.found)).containsExactlyInAnyOrderEntriesOf(
				Map.of("service.key", "service.key", "photographs/ab/one.jpg", "photographs/ab/one.jpg",
						"photographs/ä \t%.jpg", "photographs/ä \t%.jpg", "empty", "", "service.lock", "mine"));
	}

	/** Also of one that lacks a step that came later, with a lower number. */
	@Test
	void aBackupOfAnEarlierSchemaIsBroughtForward() throws Exception {
		var steps = Arrays.stream(this.flyway.info().applied())
			.map((step) -> step.getVersion().getVersion())
			.collect(Collectors.toSet());
		steps.removeAll(List.of("030", "034"));
		var scripts = this.connections.scripts(steps);
		try (var connection = this.connections.open()) {
			new Schema(connection, this.connections.history()).drop();
			this.connections.takeExactly(scripts, connection);
			connection.commit();
		}
		this.owner.execute("insert into patient (record_number) values ('K1')");
		Path file = this.folder.resolve("clinic.backup");
		this.make.to(file, PASSPHRASE);
		wipe();
		var restored = this.restore.from(file, PASSPHRASE).contents();
		assertThat(restored.tables()).containsKey("patient").doesNotContainKeys("backup_run", "retention_rule");
		assertThat(this.flyway.info().pending()).isEmpty();
		assertThat(this.jdbc.queryForObject("select record_number from patient", String.class)).isEqualTo("K1");
		assertThat(this.jdbc.queryForObject("select count(*) from backup_run", Integer.class)).isZero();
	}

	@Test
	void aBackupOfANewerSchemaIsRefused() throws Exception {
		Path file = this.folder.resolve("clinic.backup");
		try (var out = new BufferedOutputStream(Files.newOutputStream(file))) {
			var sealing = new SealingStream(out, SealHeader.fresh(PASSPHRASE, QUICK, SealHeader.CHUNK));
			new ArchiveWriter(sealing,
					new About(this.clock.instant(), "9", "18", "", List.of(new About.Step("999", "1"))))
				.finish("999");
			sealing.finish();
		}
		refusesToRestore(file, PASSPHRASE, "newer version of Seriatim (its schema has step 999");
	}

	@Test
	void whatIsDamagedOrNotOursIsRefusedAndNothingChanged() throws Exception {
		this.jdbc.execute("insert into patient (record_number) select 'K' || n from generate_series(1, 500) n");
		write(this.lost.resolve("service.key"), "old");
		byte[] sealed = sealed();
		wipe();
		write(this.found.resolve("service.key"), "new");
		Path file = this.folder.resolve("clinic.backup");
		// header, first chunk, somewhere in the rows, last tag
		for (int at : new int[] { 20, 60, SealHeader.LENGTH, sealed.length / 2, sealed.length - 1 }) {
			byte[] damaged = sealed.clone();
			damaged[at] ^= 1;
			Files.write(file, damaged);
			refusesToRestore(file, PASSPHRASE, "damaged");
		}
		Files.write(file, Arrays.copyOf(sealed, SealHeader.LENGTH + 3 * (1024 + SealHeader.TAG)));
		refusesToRestore(file, PASSPHRASE, "part of the backup is missing");
		byte[] swapped = sealed.clone();
		int chunk = 1024 + SealHeader.TAG;
		System.arraycopy(sealed, SealHeader.LENGTH + chunk, swapped, SealHeader.LENGTH, chunk);
		System.arraycopy(sealed, SealHeader.LENGTH, swapped, SealHeader.LENGTH + chunk, chunk);
		Files.write(file, swapped);
		refusesToRestore(file, PASSPHRASE, "exchanged");
		Files.write(file, sealed);
		refusesToRestore(file, Passphrase.of("ten calm herons wade"), "passphrase does not open");
		refusesToRestore(this.folder.resolve("none"), PASSPHRASE, "no file");
		assertThat(files(this.found)).isEqualTo(Map.of("service.key", "new"));
		this.restore.from(file, PASSPHRASE);
		assertThat(this.jdbc.queryForObject("select count(*) from patient", Integer.class)).isEqualTo(500);
		assertThat(files(this.found)).isEqualTo(Map.of("service.key", "old"));
	}

	@Test
	void anInstallationWithAccountsPatientsOrFilesIsLeftAsItIs() throws Exception {
		Path file = this.folder.resolve("clinic.backup");
		this.make.to(file, PASSPHRASE);
		write(this.found.resolve("photographs/other.jpg"), "another clinic's");
		refusesToRestore(file, PASSPHRASE, "photographs/other.jpg");
		Files.delete(this.found.resolve("photographs/other.jpg"));
		this.jdbc.execute("insert into patient (record_number) values ('K1')");
		refusesToRestore(file, PASSPHRASE, "has patients already");
		wipe();
		this.accounts.open("a.head", Set.of(Role.ADMINISTRATOR), "nine herons and a pike");
		refusesToRestore(file, PASSPHRASE, "has accounts already");
	}

	@Test
	void aDamagedFileInTheArchiveItselfIsNoticed() throws Exception {
		write(this.lost.resolve("photographs/one.jpg"), "eleven hops");
		Path file = this.folder.resolve("clinic.backup");
		try (var connection = this.connections.open();
				var out = new BufferedOutputStream(Files.newOutputStream(file))) {
			var sealing = new SealingStream(out, SealHeader.fresh(PASSPHRASE, QUICK, SealHeader.CHUNK));
			var plain = new ByteArrayOutputStream();
			this.make.archive(connection, plain);
			sealing.write(repacked(plain.toByteArray(), "eleven hops", "eleven hopS"));
			sealing.finish();
		}
		assertThatExceptionOfType(BackupRefused.class).isThrownBy(() -> this.check.of(file, PASSPHRASE))
			.withMessageContaining("not what its checksum says");
		wipe();
		refusesToRestore(file, PASSPHRASE, "not what its checksum says");
		assertThat(files(this.found)).isEmpty();
	}

	@Test
	void aBackupUnderWritesHoldsAllThatWasAcknowledgedAndNothingByHalves() throws Exception {
		var stop = new AtomicBoolean();
		var acknowledged = new AtomicInteger();
		var running = new CountDownLatch(200);
		var writers = new ArrayList<CompletableFuture<Void>>();
		for (int writer = 0; writer < 2; writer++) {
			String name = "W" + writer + "-";
			writers.add(CompletableFuture.runAsync(() -> {
				for (int n = 0; !stop.get(); n++) {
					register(name + n);
					acknowledged.incrementAndGet();
					running.countDown();
				}
			}));
		}
		assertThat(running.await(1, TimeUnit.MINUTES)).isTrue();
		int before = acknowledged.get();
		Path file = this.folder.resolve("clinic.backup");
		Contents contents = this.make.to(file, PASSPHRASE);
		int after = acknowledged.get() + writers.size();
		stop.set(true);
		writers.forEach(CompletableFuture::join);
		assertThat(acknowledged).hasValueGreaterThan(before);
		wipe();
		this.restore.from(file, PASSPHRASE);
		assertThat(this.jdbc.queryForObject("select count(*) from patient", Integer.class)).isBetween(before, after)
			.isEqualTo((int) contents.tables().get("patient").rows());
		assertThat(this.jdbc.queryForList("""
				select record_number from patient p where (
					select count(*) from audit_entry where patient_id = p.id) <> 2
					or (select count(*) from series where patient_id = p.id) <> 1
					or not exists (select from record_number_given g where g.record_number = p.record_number)
				union all select 'an entry without its patient' from audit_entry
					where patient_id is not null and patient_id not in (select id from patient)
				""", String.class)).isEmpty();
	}

	@Test
	void nothingIsOverwrittenAndNoHalfIsLeft() throws IOException {
		Path file = this.folder.resolve("clinic.backup");
		Files.writeString(file, "precious");
		assertThatExceptionOfType(BackupRefused.class).isThrownBy(() -> this.make.to(file, PASSPHRASE))
			.withMessageContaining("something at");
		assertThat(file).hasContent("precious");
		assertThatExceptionOfType(BackupRefused.class)
			.isThrownBy(() -> this.make.to(this.folder.resolve("unplugged/clinic.backup"), PASSPHRASE))
			.withMessageContaining("no folder");
		try (var left = Files.list(this.folder)) {
			assertThat(left.map((path) -> path.getFileName().toString())).containsExactlyInAnyOrder("lost", "found",
					"clinic.backup");
		}
	}

	@Test
	void oneIsMadeAtATime() throws Exception {
		try (var other = this.connections.open(); var statement = other.createStatement()) {
			statement.execute("select pg_advisory_lock(%d)".formatted(MakeBackup.ONE_AT_A_TIME));
			assertThatExceptionOfType(BackupRefused.class)
				.isThrownBy(() -> this.make.to(this.folder.resolve("clinic.backup"), PASSPHRASE))
				.withMessageContaining("Another backup is being made");
			statement.execute("select pg_advisory_unlock(%d)".formatted(MakeBackup.ONE_AT_A_TIME));
			other.commit();
		}
		assertThat(this.make.to(this.folder.resolve("clinic.backup"), PASSPHRASE).rows()).isPositive();
	}

	/** Nobody has to think of the backup when a table is added. */
	@Test
	void aTableOfWhichNobodyThoughtIsInIt() throws Exception {
		this.owner.execute("create table \"Thought of later\" (note text)");
		this.owner.execute("insert into \"Thought of later\" values (E'two\\nlines'), (null), (E'two\\nlines')");
		Contents contents = this.make.to(this.folder.resolve("clinic.backup"), PASSPHRASE);
		assertThat(contents.tables()).containsKey("Thought of later");
		assertThat(contents.tables().get("Thought of later").rows()).isEqualTo(3);
		assertThat(contents.tables()).doesNotContainKeys("spring_session", "flyway_schema_history");
		this.owner.execute("drop table \"Thought of later\"");
		this.owner.execute("create schema elsewhere create table forgotten (note text)");
		assertThatExceptionOfType(BackupRefused.class)
			.isThrownBy(() -> this.make.to(this.folder.resolve("other.backup"), PASSPHRASE))
			.withMessageContaining("elsewhere.forgotten");
	}

	private void register(String recordNumber) {
		this.transactions.executeWithoutResult((status) -> {
			var patient = this.jdbc.queryForObject("insert into patient (record_number) values (?) returning id",
					UUID.class, recordNumber);
			this.audit.record(AuditLog.Action.CREATED, "patient", patient, patient);
			var series = this.jdbc.queryForObject("""
					insert into series (patient_id, number, status, protocol_version)
					values (?, 1, 'open', 1) returning id""", UUID.class, patient);
			this.audit.record(AuditLog.Action.CREATED, "series", series, patient);
		});
	}

	private void refusesToRestore(Path file, Passphrase passphrase, String why) throws IOException, SQLException {
		var before = content();
		var filesBefore = files(this.found);
		assertThatExceptionOfType(BackupRefused.class).isThrownBy(() -> this.restore.from(file, passphrase))
			.withMessageContaining(why);
		assertThat(content()).isEqualTo(before);
		assertThat(files(this.found)).isEqualTo(filesBefore);
	}

	/** With small chunks and a key that is derived in no time. */
	private byte[] sealed() throws IOException, SQLException {
		var out = new ByteArrayOutputStream();
		try (var connection = this.connections.open()) {
			var sealing = new SealingStream(out, SealHeader.fresh(PASSPHRASE, QUICK, 1024));
			this.make.archive(connection, sealing);
			sealing.finish();
		}
		return out.toByteArray();
	}

	private static byte[] repacked(byte[] gzipped, String target, String replacement) throws IOException {
		byte[] tar;
		try (var in = new GZIPInputStream(new ByteArrayInputStream(gzipped))) {
			tar = in.readAllBytes();
		}
		var latin = StandardCharsets.ISO_8859_1;
		var out = new ByteArrayOutputStream();
		try (var zip = new GZIPOutputStream(out)) {
			zip.write(new String(tar, latin).replace(target, replacement).getBytes(latin));
		}
		return out.toByteArray();
	}

	/** As on a new machine. */
	private void wipe() throws SQLException {
		try (var connection = this.connections.open()) {
			new Schema(connection, this.connections.history()).drop();
			connection.commit();
		}
		this.flyway.migrate();
		new ServiceRights(this.jdbc.queryForObject("select current_user", String.class), this.connections.history())
			.give(this.records.dataSource());
	}

	private void take(Path bundle) {
		assertThat(this.bundles.take(bundle, false, ImportProgress.UNWATCHED)).isInstanceOf(ImportResult.Taken.class);
	}

	/** A digest of every table's rows; where it differs, something was changed. */
	private Map<String, String> content() {
		var content = new TreeMap<String, String>();
		for (String table : this.jdbc.queryForList("""
				select table_name from information_schema.tables
				where table_schema = 'public' and table_type = 'BASE TABLE'
					and table_name not like 'spring_session%' and table_name <> 'flyway_schema_history'""",
				String.class)) {
			content.put(table, this.jdbc.queryForObject("""
					select count(*) || ' rows ' || coalesce(md5(string_agg(r::text, '' order by r::text)), '')
					from %s r""".formatted(table), String.class));
		}
		return content;
	}

	/** What the database allows, and what it does by itself. */
	private List<String> rules() {
		return this.jdbc.queryForList("""
				select conrelid::regclass || ' ' || conname || ' ' || pg_get_constraintdef(oid) || convalidated::text
				from pg_constraint where connamespace = 'public'::regnamespace
				union all
				select tgrelid::regclass || ' ' || tgenabled::text || pg_get_triggerdef(oid) from pg_trigger
				where not tgisinternal
				union all
				select indexrelid::regclass || ' ' || pg_get_indexdef(indexrelid) from pg_index
				where indrelid in (select oid from pg_class where relnamespace = 'public'::regnamespace)
				order by 1""", String.class);
	}

	private static void write(Path file, String content) throws IOException {
		Files.createDirectories(file.getParent());
		Files.writeString(file, content);
	}

	private static Map<String, String> files(Path folder) throws IOException {
		var content = new TreeMap<String, String>();
		try (var files = Files.walk(folder)) {
			files.filter(Files::isRegularFile).forEach((file) -> {
				try {
					content.put(folder.relativize(file).toString(), Files.readString(file));
				}
				catch (IOException ex) {
					throw new UncheckedIOException(ex);
				}
			});
		}
		return content;
	}

}
