package org.seriatim.database;

import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.FileSystemException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

import io.zonky.test.db.postgres.embedded.DefaultPostgresBinaryResolver;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveInputStream;
import org.apache.commons.compress.compressors.xz.XZCompressorInputStream;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

import org.springframework.util.FileSystemUtils;

/**
 * The programs of PostgreSQL for this machine, unpacked from the archive that comes with
 * Seriatim. They are unpacked once for each archive and account, and again only if
 * something is missing; several processes may do so at the same time.
 */
final class PostgresPrograms {

	private static final Logger logger = LoggerFactory.getLogger(PostgresPrograms.class);

	private static final String CONTENTS = "contents.txt";

	private static final Pattern VERSION = Pattern.compile("\\(PostgreSQL\\) ((\\d+)\\S*)");

	private final Path folder;

	private final List<String> prefix;

	private final String version;

	private final int majorVersion;

	private PostgresPrograms(Path folder) {
		this.folder = folder;
		this.prefix = isRoot() ? List.of("unshare", "--user") : List.of();
		Matcher matcher = VERSION.matcher(versionLine());
		if (!matcher.find()) {
			throw new IllegalStateException("No version of PostgreSQL in " + matcher);
		}
		this.version = matcher.group(1);
		this.majorVersion = Integer.parseInt(matcher.group(2));
	}

	/**
	 * The programs below the given folder, unpacked there if they are not yet.
	 */
	static PostgresPrograms in(Path cache) {
		try {
			byte[] archive = archive();
			Path folder = cache.toAbsolutePath().resolve("postgresql-" + digest(archive));
			if (!isComplete(folder)) {
				logger.info("Unpacking the programs of PostgreSQL into {}", folder);
				unpack(archive, OwnerOnly.folder(cache.toAbsolutePath()), folder);
			}
			return new PostgresPrograms(folder);
		}
		catch (IOException ex) {
			throw new RecordsUnavailable(
					"The programs of PostgreSQL cannot be unpacked into %s (%s). Name another folder with seriatim.programs, "
						.formatted(cache.toAbsolutePath(), ex)
							+ "or give this account the right and the space (about 70 MB) to write there.",
					ex);
		}
	}

	private static byte[] archive() throws IOException {
		String system = System.getProperty("os.name");
		String machine = System.getProperty("os.arch");
		String family = system.startsWith("Mac") ? "Darwin" : system.startsWith("Windows") ? "Windows" : system;
		try (InputStream in = DefaultPostgresBinaryResolver.INSTANCE.getPgBinary(family, machine)) {
			return in.readAllBytes();
		}
		catch (IllegalStateException ex) {
			throw new RecordsUnavailable(
					"Seriatim brings no PostgreSQL for this machine (%s, %s). Run a PostgreSQL server of version 18 and "
						.formatted(system, machine)
							+ "name it with spring.datasource.url, spring.datasource.username and spring.datasource.password.",
					ex);
		}
	}

	private static String digest(byte[] archive) {
		try {
			byte[] digest = MessageDigest.getInstance("SHA-256").digest(archive);
			return HexFormat.of().formatHex(digest, 0, 8);
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException(ex);
		}
	}

	/**
	 * Whether every file is there with its size: tidying programs take old files out of
	 * cache folders one by one.
	 */
	private static boolean isComplete(Path folder) throws IOException {
		Path contents = folder.resolve(CONTENTS);
		if (!Files.isRegularFile(contents)) {
			return false;
		}
		for (String line : Files.readAllLines(contents)) {
			int blank = line.indexOf(' ');
			Path file = folder.resolve(line.substring(blank + 1));
			if (!Files.exists(file) || Files.size(file) != Long.parseLong(line.substring(0, blank))) {
				return false;
			}
		}
		return true;
	}

	private static void unpack(byte[] archive, Path cache, Path folder) throws IOException {
		Path draft = Files.createTempDirectory(cache, "unpacking-");
		try {
			unpack(archive, draft);
			if (Files.exists(folder) && !isComplete(folder)) {
				// out of the way in one step: another process may be about to do the same
				moveIfPossible(folder, Files.createTempDirectory(cache, "incomplete-").resolve("programs"));
			}
			moveIfPossible(draft, folder);
			if (!isComplete(folder)) {
				throw new FileSystemException(folder.toString(), null, "incomplete after unpacking");
			}
		}
		finally {
			FileSystemUtils.deleteRecursively(draft);
			removeIncomplete(cache);
		}
	}

	private static void unpack(byte[] archive, Path folder) throws IOException {
		try (var tar = new TarArchiveInputStream(
				new BufferedInputStream(new XZCompressorInputStream(new ByteArrayInputStream(archive)), 1 << 16))) {
			for (TarArchiveEntry entry = tar.getNextEntry(); entry != null; entry = tar.getNextEntry()) {
				Path target = folder.resolve(entry.getName()).normalize();
				if (!target.startsWith(folder)) {
					throw new FileSystemException(entry.getName(), null, "leads out of the folder");
				}
				if (entry.isDirectory()) {
					Files.createDirectories(target);
					continue;
				}
				Files.createDirectories(target.getParent());
				if (entry.isSymbolicLink()) {
					Files.createSymbolicLink(target, Path.of(entry.getLinkName()));
				}
				else if (entry.isLink()) {
					Files.copy(folder.resolve(entry.getLinkName()).normalize(), target);
				}
				else {
					Files.copy(tar, target);
				}
				if (target.startsWith(folder.resolve("bin"))) {
					target.toFile().setExecutable(true, true);
				}
			}
		}
		Files.write(folder.resolve(CONTENTS), contents(folder));
	}

	private static List<String> contents(Path folder) throws IOException {
		List<String> lines = new ArrayList<>();
		Files.walkFileTree(folder, new SimpleFileVisitor<>() {

			@Override
			public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
				lines.add(Files.size(file) + " " + folder.relativize(file));
				return FileVisitResult.CONTINUE;
			}

		});
		return lines;
	}

	private static void moveIfPossible(Path from, Path to) throws IOException {
		try {
			Files.move(from, to, StandardCopyOption.ATOMIC_MOVE);
		}
		catch (AtomicMoveNotSupportedException ex) {
			throw ex;
		}
		catch (FileSystemException ex) {
			logger.debug("Another process was faster with {}", to, ex);
		}
	}

	private static void removeIncomplete(Path cache) throws IOException {
		try (var incomplete = Files.newDirectoryStream(cache, "incomplete-*")) {
			for (Path folder : incomplete) {
				FileSystemUtils.deleteRecursively(folder);
			}
		}
	}

	/**
	 * PostgreSQL refuses to run as root. In a user namespace of its own it does not see
	 * that it is.
	 */
	private static boolean isRoot() {
		Path self = Path.of("/proc/self");
		try {
			return Files.exists(self) && Integer.valueOf(0).equals(Files.getAttribute(self, "unix:uid"));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private String versionLine() {
		Outcome outcome;
		try {
			outcome = run("postgres", "", "--version");
		}
		catch (UncheckedIOException ex) {
			throw unusable(String.valueOf(ex.getMessage()), ex);
		}
		if (!outcome.succeeded()) {
			throw unusable(outcome.output(), null);
		}
		return outcome.output();
	}

	private RecordsUnavailable unusable(String why, @Nullable Exception cause) {
		String advice = this.prefix.isEmpty()
				? "Seriatim's PostgreSQL does not run on this machine: %s. Run a PostgreSQL server of version 18 and name it"
				: "PostgreSQL does not run as root, and this machine does not let root put it into a user namespace "
						+ "(unshare --user): %s. Start Seriatim with an ordinary account, or name a PostgreSQL server";
		return new RecordsUnavailable(advice.formatted(why.strip()) + " with spring.datasource.url.", cause);
	}

	/**
	 * Runs one of the programs to its end.
	 * @param program its name
	 * @param input what it reads, such as statements that must not be seen on a command
	 * line
	 * @param arguments its arguments
	 * @return how it ended and everything that it said
	 */
	Outcome run(String program, String input, String... arguments) {
		List<String> command = new ArrayList<>(this.prefix);
		command.add(this.folder.resolve("bin").resolve(program + suffix()).toString());
		command.addAll(List.of(arguments));
		ProcessBuilder builder = new ProcessBuilder(command).redirectErrorStream(true);
		// PGDATA, PGPORT and their like belong to another server of this account
		builder.environment().keySet().removeIf((name) -> name.startsWith("PG"));
		builder.environment().put("LC_ALL", "C");
		try {
			Process process = builder.start();
			try (var out = process.getOutputStream()) {
				out.write(input.getBytes(StandardCharsets.UTF_8));
			}
			String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
			return new Outcome(process.waitFor(), output);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			throw new IllegalStateException("Interrupted while waiting for " + program, ex);
		}
	}

	private static String suffix() {
		return System.getProperty("os.name").toLowerCase(Locale.ROOT).startsWith("windows") ? ".exe" : "";
	}

	String version() {
		return this.version;
	}

	int majorVersion() {
		return this.majorVersion;
	}

	Path folder() {
		return this.folder;
	}

	/**
	 * How a program ended, and what it said.
	 */
	record Outcome(int exitCode, String output) {

		boolean succeeded() {
			return this.exitCode == 0;
		}

	}

}
