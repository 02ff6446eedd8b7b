package org.seriatim.exchange.domain;

import java.io.BufferedOutputStream;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.DirectoryStream;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

import org.jspecify.annotations.Nullable;

import org.seriatim.access.AuditLog;
import org.seriatim.access.AuditLog.Action;
import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Column;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.PatientPart;
import org.seriatim.exchange.BundleExport;
import org.seriatim.patient.PatientSummary;

import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.namedparam.NamedParameterJdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.util.FileSystemUtils;

/**
 * Writes all records as a bundle: every file, columns in the order of the format, rows in
 * the order of their keys (numbers, days and times by value, text by code point), values
 * as they were given. One transaction sees all files as they are at one moment.
 */
@Service
class ExportBundle implements BundleExport {

	private static final int FETCHED_ROWS = 1_000;

	private final BundleSections sections;

	private final JdbcTemplate jdbc;

	private final TransactionTemplate snapshot;

	private final TransactionTemplate audited;

	private final AuditLog auditLog;

	ExportBundle(BundleSections sections, JdbcTemplate jdbc, PlatformTransactionManager transactions,
			AuditLog auditLog) {
		this.sections = sections;
		this.jdbc = new JdbcTemplate(jdbc.getDataSource());
		this.jdbc.setFetchSize(FETCHED_ROWS);
		this.snapshot = new TransactionTemplate(transactions);
		this.snapshot.setIsolationLevel(TransactionDefinition.ISOLATION_REPEATABLE_READ);
		this.audited = new TransactionTemplate(transactions);
		this.auditLog = auditLog;
	}

	@Override
	public void to(Path fileOrFolder) throws IOException {
		Path target = fileOrFolder.toAbsolutePath().normalize();
		if (Files.isDirectory(target)) {
			refuseUnlessEmpty(target);
			fill(target);
		}
		else if (Files.exists(target)) {
			throw new FileAlreadyExistsException(target.toString());
		}
		else {
			Path parent = Files.createDirectories(target.getParent());
			if (target.getFileName().toString().toLowerCase(Locale.ROOT).endsWith(".zip")) {
				writeZip(parent, target);
			}
			else {
				writeFolder(parent, target);
			}
		}
	}

	private static void refuseUnlessEmpty(Path folder) throws IOException {
		try (DirectoryStream<Path> files = Files.newDirectoryStream(folder)) {
			if (files.iterator().hasNext()) {
				throw new FileAlreadyExistsException(folder.toString());
			}
		}
	}

	/** Under another name first, so that a file of that name is always a whole bundle. */
	private void writeZip(Path parent, Path target) throws IOException {
		Path partial = Files.createTempFile(parent, ".seriatim-export-", ".zip");
		try {
			try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(partial))) {
				zipTo(out);
			}
			move(partial, target);
		}
		finally {
			Files.deleteIfExists(partial);
		}
	}

	private void writeFolder(Path parent, Path target) throws IOException {
		Path partial = Files.createTempDirectory(parent, ".seriatim-export-");
		try {
			write(new FolderTarget(partial));
			move(partial, target);
		}
		finally {
			FileSystemUtils.deleteRecursively(partial);
		}
	}

	/**
	 * A folder that is there already keeps its place and its permissions: it may be a
	 * mounted one.
	 */
	private void fill(Path folder) throws IOException {
		Path partial = Files.createTempDirectory(folder, ".seriatim-export-");
		try {
			write(new FolderTarget(partial));
			try (DirectoryStream<Path> files = Files.newDirectoryStream(partial)) {
				for (Path file : files) {
					move(file, folder.resolve(file.getFileName()));
				}
			}
		}
		finally {
			FileSystemUtils.deleteRecursively(partial);
		}
	}

	private static void move(Path from, Path to) throws IOException {
		try {
			Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
		}
		catch (AtomicMoveNotSupportedException ex) {
			Files.move(from, to);
		}
	}

	@Override
	public void zipTo(OutputStream out) throws IOException {
		ZipTarget zip = new ZipTarget(out);
		write(zip);
		zip.finish();
	}

	@Override
	public void zipOf(PatientSummary patient, List<FileBeside> beside, OutputStream out) throws IOException {
		ZipTarget zip = new ZipTarget(out);
		PatientPart part = new PatientPart(this.sections.inOrder());
		UUID id = patient.id().value();
		this.audited.executeWithoutResult((status) -> this.auditLog.record(Action.EXPORTED, "patient", id, id));
		writeRows(zip, part::recorded, patient.recordNumber());
		for (FileBeside file : beside) {
			Optional<byte[]> content = file.content().read();
			if (content.isPresent()) {
				zip.begin(file.name()).write(content.get());
			}
		}
		zip.finish();
	}

	private void write(BundleTarget target) throws IOException {
		// On record before the first byte leaves: an export that breaks off has given out
		// records, too.
		this.audited.executeWithoutResult((status) -> this.auditLog.record(Action.EXPORTED, "bundle", null, null));
		writeRows(target, BundleSection::recorded, null);
	}

	private void writeRows(BundleTarget target, Function<BundleSection, String> rows, @Nullable String recordNumber)
			throws IOException {
		try {
			this.snapshot.executeWithoutResult((status) -> {
				try {
					writeAbout(target);
					for (BundleSection section : this.sections.inOrder()) {
						write(section, target, rows.apply(section), recordNumber);
					}
				}
				catch (IOException ex) {
					throw new UncheckedIOException(ex);
				}
			});
		}
		catch (UncheckedIOException ex) {
			throw ex.getCause();
		}
	}

	private static void writeAbout(BundleTarget target) throws IOException {
		try (OutputStream out = target.begin(BundleFormat.ABOUT)) {
			CsvWriter csv = new CsvWriter(out);
			csv.write(List.of("key", "value"));
			csv.write(List.of("format_version", Integer.toString(BundleFormat.VERSION)));
			csv.flush();
		}
	}

	private void write(BundleSection section, BundleTarget target, String rows, @Nullable String recordNumber)
			throws IOException {
		BundleFile file = section.file();
		try (OutputStream out = target.begin(file.name())) {
			CsvWriter csv = new CsvWriter(out);
			csv.write(file.columns().stream().map(Column::name).toList());
			new NamedParameterJdbcTemplate(this.jdbc).query(query(section, rows), parameters(recordNumber),
					(result) -> {
						try {
							csv.write(cells(file, result));
						}
						catch (IOException ex) {
							throw new UncheckedIOException(ex);
						}
					});
			csv.flush();
		}
	}

	private static Map<String, Object> parameters(@Nullable String recordNumber) {
		return (recordNumber != null) ? Map.of(PatientPart.PARAMETER, recordNumber) : Map.of();
	}

	private static String query(BundleSection section, String rows) {
		BundleFile file = section.file();
		String order = file.key()
			.stream()
			.map((column) -> isText(file.column(column).kind()) ? column + " collate \"C\"" : column)
			.collect(Collectors.joining(", "));
		return "select %s from (%s) recorded order by %s".formatted(String.join(", ", Staging.stagedColumns(file)),
				rows, order);
	}

	private static boolean isText(Kind kind) {
		return kind instanceof Kind.Text || kind instanceof Kind.Staff || kind instanceof Kind.Term
				|| kind instanceof Kind.Word;
	}

	private static List<@Nullable String> cells(BundleFile file, ResultSet result) throws SQLException {
		List<@Nullable String> cells = new ArrayList<>();
		for (Column column : file.columns()) {
			Object value = value(column, result);
			cells.add((value == null) ? null : column.kind().write(value));
		}
		return cells;
	}

	private static @Nullable Object value(Column column, ResultSet result) throws SQLException {
		String name = column.name();
		Kind kind = column.kind();
		if (kind instanceof Kind.Moment) {
			OffsetDateTime moment = result.getObject(name, OffsetDateTime.class);
			return (moment == null) ? null : Kind.Moment.of(moment, result.getInt(name + "_offset"));
		}
		if (kind instanceof Kind.Day) {
			return result.getObject(name, LocalDate.class);
		}
		if (kind instanceof Kind.Decimal) {
			return result.getBigDecimal(name);
		}
		return isText(kind) ? result.getString(name) : result.getObject(name);
	}

	/** A folder that only its owner can look into. */
	private record FolderTarget(Path folder) implements BundleTarget {

		@Override
		public OutputStream begin(String name) throws IOException {
			Path file = this.folder.resolve(name);
			// Files of this kind, unlike others, are made for their owner only.
			Path made = Files.createTempFile(this.folder, name, null);
			Files.move(made, file);
			return new BufferedOutputStream(Files.newOutputStream(file));
		}

	}

	/** A ZIP file in which nothing but the records makes a difference. */
	private static final class ZipTarget implements BundleTarget {

		/** The earliest time that the format can tell. */
		private static final LocalDateTime NO_TIME = LocalDateTime.of(1980, 1, 1, 0, 0);

		private final ZipOutputStream zip;

		ZipTarget(OutputStream out) {
			this.zip = new ZipOutputStream(out, StandardCharsets.UTF_8);
		}

		@Override
		public OutputStream begin(String name) throws IOException {
			ZipEntry entry = new ZipEntry(name);
			entry.setTimeLocal(NO_TIME);
			this.zip.putNextEntry(entry);
			return new FilterOutputStream(this.zip) {

				@Override
				public void write(byte[] bytes, int offset, int length) throws IOException {
					this.out.write(bytes, offset, length);
				}

				@Override
				public void close() throws IOException {
					ZipTarget.this.zip.closeEntry();
				}

			};
		}

		void finish() throws IOException {
			this.zip.finish();
			this.zip.flush();
		}

	}

}
