package org.seriatim.database;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.util.Optional;
import java.util.Properties;

/**
 * The process that works on a data folder, as it has put itself down there.
 *
 * @param kind a service or a command
 * @param pid the process id
 * @param port where its database listens on the loopback address; 0 while it is still
 * starting
 */
record Occupant(Kind kind, long pid, int port) {

	enum Kind {

		SERVICE, COMMAND

	}

	static Occupant thisProcess(Kind kind, int port) {
		return new Occupant(kind, ProcessHandle.current().pid(), port);
	}

	/**
	 * The occupant on record, if its process still lives. An entry left behind by a
	 * process that was killed is none.
	 */
	static Optional<Occupant> in(DataFolder folder) {
		try {
			Properties entry = OwnerOnly.read(folder.occupant());
			Occupant occupant = new Occupant(Kind.valueOf(entry.getProperty("kind")),
					Long.parseLong(entry.getProperty("pid")), Integer.parseInt(entry.getProperty("port")));
			return Optional.of(occupant).filter(Occupant::lives);
		}
		catch (NoSuchFileException ex) {
			return Optional.empty();
		}
		catch (IOException ex) {
			throw new RecordsUnavailable(
					"Another process works on the data folder %s, and this account may not read who it is (%s). Run "
						.formatted(folder, folder.occupant().getFileName())
							+ "this command with the account of the service.",
					ex);
		}
	}

	private boolean lives() {
		return ProcessHandle.of(this.pid).filter(ProcessHandle::isAlive).isPresent();
	}

	void enter(DataFolder folder) {
		Properties entry = new Properties();
		entry.setProperty("kind", this.kind.name());
		entry.setProperty("pid", Long.toString(this.pid));
		entry.setProperty("port", Integer.toString(this.port));
		try {
			OwnerOnly.write(folder.occupant(), entry);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	static void leave(DataFolder folder) {
		try {
			Files.deleteIfExists(folder.occupant());
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	boolean isReady() {
		return this.port != 0;
	}

}
