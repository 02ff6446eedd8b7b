package org.seriatim.proof;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.locks.LockSupport;

/**
 * The network between the service and its database. While it is cut, nothing passes and
 * nothing is said about it, as behind a switch that lost its power.
 */
final class DatabaseProxy implements AutoCloseable {

	private static final long LOOK_AGAIN = 20_000_000;

	private final ServerSocket entrance = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());

	private final Set<Socket> open = ConcurrentHashMap.newKeySet();

	private final int database;

	private volatile boolean cut;

	/**
	 * @param database the port of the server
	 */
	DatabaseProxy(int database) throws IOException {
		this.database = database;
		start(this::accept);
	}

	private static void start(Runnable work) {
		var thread = new Thread(work, "database proxy");
		thread.setDaemon(true);
		thread.start();
	}

	int port() {
		return this.entrance.getLocalPort();
	}

	/** Lets nothing pass any more. */
	void cut() {
		this.cut = true;
	}

	/**
	 * Lets everything pass again.
	 * @param forgetful whether the connections of before are gone, as behind a firewall
	 * that started anew
	 */
	void mend(boolean forgetful) {
		if (forgetful) {
			this.open.forEach(DatabaseProxy::close);
		}
		this.cut = false;
	}

	private void accept() {
		while (!this.entrance.isClosed()) {
			try {
				var client = this.entrance.accept();
				this.open.add(client);
				start(() -> join(client));
			}
			catch (IOException ex) {
				return;
			}
		}
	}

	private void join(Socket client) {
		awaitMended();
		try {
			var server = new Socket(InetAddress.getLoopbackAddress(), this.database);
			this.open.add(server);
			start(() -> pass(client, server));
			pass(server, client);
		}
		catch (IOException ex) {
			close(client);
		}
	}

	private void awaitMended() {
		while (this.cut) {
			LockSupport.parkNanos(LOOK_AGAIN);
		}
	}

	private void pass(Socket from, Socket to) {
		var buffer = new byte[1 << 14];
		try {
			for (int read = from.getInputStream().read(buffer); read >= 0; read = from.getInputStream().read(buffer)) {
				awaitMended();
				to.getOutputStream().write(buffer, 0, read);
			}
		}
		catch (IOException ex) {
			// one side has gone, so the other goes as well
		}
		close(from);
		close(to);
		this.open.remove(from);
		this.open.remove(to);
	}

	private static void close(Socket socket) {
		try {
			socket.close();
		}
		catch (IOException ex) {
			// it is given up either way
		}
	}

	@Override
	public void close() throws IOException {
		this.entrance.close();
		mend(true);
	}

}
