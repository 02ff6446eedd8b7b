package org.seriatim.exchange.domain;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import java.util.zip.ZipException;

import org.seriatim.bundle.BundleFile;
import org.seriatim.bundle.BundleFormat;
import org.seriatim.bundle.BundleSection;
import org.seriatim.bundle.Kind;
import org.seriatim.bundle.Row;
import org.seriatim.exchange.ImportProgress;
import org.seriatim.exchange.ImportProgress.Stage;
import org.seriatim.exchange.Problem;

/**
 * Reads all files of a bundle into the {@link Staging}, from beginning to end once.
 */
final class Intake {

	private static final BundleFile ABOUT = BundleFile.named(BundleFormat.ABOUT)
		.key("key", Kind.word(List.of("format_version")))
		.required("value", Kind.whole(1, BundleFormat.VERSION))
		.build();

	private final BundleSource source;

	private final List<BundleSection> sections;

	private final Staging staging;

	private final ImportProgress progress;

	private final long total;

	private final long most;

	private long bytes;

	/** The digests of the files by name. */
	private final Map<String, String> digests = new TreeMap<>();

	private boolean complete = true;

	Intake(BundleSource source, List<BundleSection> sections, Staging staging, ImportProgress progress, long most) {
		this.source = source;
		this.sections = sections;
		this.staging = staging;
		this.progress = progress;
		this.most = most;
		this.total = source.names().stream().mapToLong(source::size).sum();
	}

	/**
	 * Reads the files.
	 * @return whether rules about several rows can be asked, that is, whether no file is
	 * missing as a whole
	 */
	boolean read() throws UnreadableBundle {
		List<String> names = new ArrayList<>(BundleFormat.FILES);
		names.add(BundleFormat.ABOUT);
		for (String name : this.source.names()) {
			if (!names.contains(name)) {
				this.staging.add(new Problem(name, null, null, null, "a file that is not part of a bundle",
						"no other CSV files than " + String.join(", ", names)));
			}
		}
		readAbout();
		for (BundleSection section : this.sections) {
			BundleFile file = section.file();
			if (this.source.names().contains(file.name())) {
				read(file);
			}
			else if (file.since() == 1) {
				this.staging.add(new Problem(file.name(), null, null, null, "no such file",
						"the file, with its header line where there is nothing to tell"));
				this.complete = false;
			}
		}
		return this.complete;
	}

	private void readAbout() throws UnreadableBundle {
		if (!this.source.names().contains(ABOUT.name())) {
			return;
		}
		List<Row> rows = new ArrayList<>();
		read(ABOUT, rows::add);
		if (rows.isEmpty() && this.complete) {
			this.staging.add(new Problem(ABOUT.name(), null, null, null, "no format version",
					"a line with the key format_version and the number of the version"));
		}
	}

	private void read(BundleFile file) throws UnreadableBundle {
		Map<String, Integer> columnNumbers = read(file, this.staging::add);
		this.staging.finish(file, columnNumbers);
	}

	private Map<String, Integer> read(BundleFile file, Consumer<Row> rows) throws UnreadableBundle {
		MessageDigest digest = sha256();
		long before = this.bytes;
		try (InputStream in = new DigestInputStream(new Metered(this.source.open(file.name()), file.name()), digest)) {
			RowReader reader = new RowReader(file, in, this.staging::add);
			if (!reader.readHeader()) {
				this.complete = false;
				return Map.of();
			}
			for (Row row = reader.next(); row != null; row = reader.next()) {
				if (row.hasKey()) {
					rows.accept(row);
				}
			}
			this.digests.put(file.name(), HexFormat.of().formatHex(digest.digest()));
			return reader.columnNumbers();
		}
		catch (TooLarge ex) {
			throw new UnreadableBundle(new Problem(file.name(), null, null, null,
					"more than %,d bytes in the bundle so far".formatted(this.most),
					"a bundle of at most %,d bytes once it is unpacked".formatted(this.most)));
		}
		catch (IOException ex) {
			this.staging.add(new Problem(file.name(), null, null, null,
					"data that cannot be read" + ((ex instanceof ZipException) ? " out of the ZIP file" : "")
							+ " after %,d bytes".formatted(this.bytes - before),
					"an undamaged file"));
			this.complete = false;
			return Map.of();
		}
	}

	/**
	 * The SHA-256 of a list of the files in order of their names, each with its own
	 * SHA-256, so that a folder and a ZIP file of the same files have the same; that of
	 * {@code sha256sum *.csv | sha256sum}.
	 */
	String digest() {
		String list = this.digests.entrySet()
			.stream()
			.map((file) -> file.getValue() + "  " + file.getKey() + "\n")
			.collect(Collectors.joining());
		return HexFormat.of().formatHex(sha256().digest(list.getBytes(StandardCharsets.UTF_8)));
	}

	private static MessageDigest sha256() {
		try {
			return MessageDigest.getInstance("SHA-256");
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException(ex);
		}
	}

	/** Counts bytes, for the one who waits and against bundles that unpack to no end. */
	private final class Metered extends FilterInputStream {

		private final String file;

		Metered(InputStream in, String file) {
			super(in);
			this.file = file;
		}

		@Override
		public int read(byte[] buffer, int offset, int length) throws IOException {
			int read = super.read(buffer, offset, length);
			if (read > 0) {
				Intake.this.bytes += read;
				if (Intake.this.bytes > Intake.this.most) {
					throw new TooLarge();
				}
				Intake.this.progress.at(Stage.READING, this.file, Math.min(Intake.this.bytes, Intake.this.total),
						Intake.this.total);
			}
			return read;
		}

	}

	private static final class TooLarge extends IOException {

	}

}
