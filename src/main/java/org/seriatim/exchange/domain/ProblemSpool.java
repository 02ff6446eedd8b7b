package org.seriatim.exchange.domain;

import java.io.BufferedInputStream;
import java.io.BufferedOutputStream;
import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Predicate;

import org.jspecify.annotations.Nullable;

import org.seriatim.exchange.Problem;
import org.seriatim.exchange.ProblemReport;

/**
 * Problems in a file that only the owner of the process can read, since there may be more
 * than fit in memory.
 */
final class ProblemSpool implements ProblemReport {

	private final Path file;

	private final long count;

	private final List<Problem> first;

	private ProblemSpool(Path file, long count, List<Problem> first) {
		this.file = file;
		this.count = count;
		this.first = List.copyOf(first);
	}

	static ProblemSpool of(Problem problem, int shown) {
		Writer writer = new Writer(shown);
		writer.accept(problem);
		return writer.finish();
	}

	/**
	 * Problems that some service has put into a file.
	 * @param count how many, which is all that is known where the file is not to be seen
	 */
	static ProblemReport kept(Path file, long count, int shown) {
		var first = new ArrayList<Problem>();
		read(file, (problem) -> {
			first.add(problem);
			return first.size() < shown;
		});
		return new ProblemSpool(file, count, first);
	}

	Path file() {
		return this.file;
	}

	@Override
	public long count() {
		return this.count;
	}

	@Override
	public List<Problem> first() {
		return this.first;
	}

	@Override
	public void forEach(Consumer<Problem> action) {
		read(this.file, (problem) -> {
			action.accept(problem);
			return true;
		});
	}

	/**
	 * @param more what is done with a problem; whether to go on to the next one
	 */
	private static void read(Path file, Predicate<Problem> more) {
		if (!Files.isReadable(file)) {
			more.test(new Problem(UnreadableBundle.WHOLE_BUNDLE, null, null, null,
					"problems that another service has noted", "one data folder for all services"));
			return;
		}
		try (InputStream in = new BufferedInputStream(Files.newInputStream(file))) {
			CsvReader csv = new CsvReader(in);
			CsvRecord record = csv.next();
			while (record != null && more.test(problem(record.cells().stream().map(CsvCell::text).toList()))) {
				record = csv.next();
			}
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private static Problem problem(List<String> cells) {
		return new Problem(cells.get(0), number(cells.get(1)), number(cells.get(2)),
				cells.get(3).isEmpty() ? null : cells.get(3), cells.get(4), cells.get(5));
	}

	private static @Nullable Integer number(String text) {
		return text.isEmpty() ? null : Integer.valueOf(text);
	}

	@Override
	public void discard() {
		try {
			Files.deleteIfExists(this.file);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/** Takes the problems in order. */
	static final class Writer implements Consumer<Problem>, Closeable {

		private final int shown;

		private final Path file;

		private final OutputStream out;

		private final CsvWriter csv;

		private final List<Problem> first = new ArrayList<>();

		private long count;

		Writer(int shown) {
			this(temporary(), shown);
		}

		private static Path temporary() {
			try {
				// readable by the owner only, unlike an ordinary new file
				var file = Files.createTempFile("seriatim-problems-", ".csv");
				file.toFile().deleteOnExit();
				return file;
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
		}

		/** Into a file that is there already. */
		Writer(Path file, int shown) {
			this.shown = shown;
			this.file = file;
			try {
				this.out = new BufferedOutputStream(Files.newOutputStream(this.file));
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
			this.csv = new CsvWriter(this.out);
		}

		@Override
		public void accept(Problem problem) {
			try {
				this.csv.write(Arrays.asList(problem.file(), text(problem.line()), text(problem.columnNumber()),
						problem.column(), problem.found(), problem.expected()));
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
			this.count++;
			if (this.first.size() < this.shown) {
				this.first.add(problem);
			}
		}

		private static @Nullable String text(@Nullable Integer number) {
			return (number == null) ? null : number.toString();
		}

		ProblemSpool finish() {
			try {
				close();
			}
			catch (IOException ex) {
				throw new UncheckedIOException(ex);
			}
			return new ProblemSpool(this.file, this.count, this.first);
		}

		@Override
		public void close() throws IOException {
			this.csv.flush();
			this.out.close();
		}

	}

}
