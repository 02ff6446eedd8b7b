package org.seriatim.access.web;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/**
 * A request as it travels, byte by byte, with everything in it that no well-behaved
 * client would send.
 *
 * @param target what stands between method and version, encoded or not
 */
record RawRequest(String method, String target, List<String> headers, byte[] body) {

	private static final int MOST_SHOWN = 1_000;

	private static final int PATIENCE_MS = 20_000;

	/**
	 * What came back.
	 *
	 * @param status 0 if the connection was closed without an answer
	 */
	record Answer(int status, String head, String body) {
	}

	RawRequest {
		headers = List.copyOf(headers);
	}

	RawRequest with(String header) {
		var more = new ArrayList<>(this.headers);
		more.add(header);
		return new RawRequest(this.method, this.target, more, this.body);
	}

	Answer send(int port) throws IOException {
		try (var socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
			socket.setSoTimeout(PATIENCE_MS);
			try {
				socket.getOutputStream().write(bytes());
				socket.getOutputStream().flush();
				// nothing more will come, whatever a header announced
				socket.shutdownOutput();
			}
			catch (SocketException ex) {
				// refused while it was still being sent; the answer is there all the same
			}
			return answer(socket);
		}
	}

	private byte[] bytes() throws IOException {
		var text = new StringBuilder(this.method).append(' ').append(this.target).append(" HTTP/1.1\r\n");
		if (this.headers.stream().noneMatch((header) -> header.startsWith("Host:"))) {
			text.append("Host: localhost\r\n");
		}
		this.headers.forEach((header) -> text.append(header).append("\r\n"));
		if (this.body.length > 0) {
			text.append("Content-Length: ").append(this.body.length).append("\r\n");
		}
		text.append("Connection: close\r\n\r\n");
		var bytes = new ByteArrayOutputStream();
		bytes.write(text.toString().getBytes(StandardCharsets.ISO_8859_1));
		bytes.write(this.body);
		return bytes.toByteArray();
	}

	private static Answer answer(Socket socket) throws IOException {
		var bytes = new ByteArrayOutputStream();
		try {
			socket.getInputStream().transferTo(bytes);
		}
		catch (SocketException ex) {
			// what arrived before the connection was reset counts
		}
		var text = bytes.toString(StandardCharsets.UTF_8).replaceFirst("(?s)^HTTP/1.1 100 .*?\r\n\r\n", "");
		var end = text.indexOf("\r\n\r\n");
		if (!text.startsWith("HTTP/1.1 ") || end < 0) {
			return new Answer(0, text, "");
		}
		return new Answer(Integer.parseInt(text.substring(9, 12)), text.substring(0, end), text.substring(end + 4));
	}

	@Override
	public String toString() {
		return this.method + " " + shortened(this.target) + " "
				+ this.headers.stream().map(RawRequest::shortened).toList() + " "
				+ shortened(new String(this.body, StandardCharsets.ISO_8859_1));
	}

	private static String shortened(String text) {
		var shown = text.replaceAll("(\\w)\\1{20,}", "$1$1…");
		return (shown.length() > MOST_SHOWN) ? shown.substring(0, MOST_SHOWN) + "… (" + text.length() + ")" : shown;
	}

}
