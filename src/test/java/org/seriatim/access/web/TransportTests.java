package org.seriatim.access.web;

import java.io.IOException;
import java.security.NoSuchAlgorithmException;
import java.util.List;

import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLHandshakeException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.support.OneDatabase;
import org.seriatim.support.ServedTest;
import org.springframework.boot.test.web.server.LocalServerPort;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

/** What only the real server says, and what it takes from the Java platform. */
@ServedTest
@OneDatabase
class TransportTests {

	@LocalServerPort
	private int port;

	@ParameterizedTest
	@ValueSource(strings = { "/css/seriatim.css", "/js/shell.js", "/invitation" })
	void everyTextSaysInWhichCharactersItIs(String address) throws IOException {
		var answer = new RawRequest("GET", address, List.of("Accept: text/html,*/*"), new byte[0]).send(this.port);
		assertThat(answer.head().lines())
			.anyMatch((line) -> line.matches("(?i)content-type: text/.*;\\s*charset=utf-8"));
	}

	/* OWASP ASVS 5.0.0, 12.1.1; the server widens nothing of this. */
	@ParameterizedTest
	@ValueSource(strings = { "SSLv3", "TLSv1", "TLSv1.1" })
	void speaksNoOldVersionOfTls(String version) throws NoSuchAlgorithmException {
		var engine = SSLContext.getDefault().createSSLEngine();
		engine.setUseClientMode(false);
		engine.setEnabledProtocols(new String[] { version });
		assertThatExceptionOfType(SSLHandshakeException.class).isThrownBy(() -> {
			engine.beginHandshake();
			engine.wrap(java.nio.ByteBuffer.allocate(0), java.nio.ByteBuffer.allocate(32_768));
		});
	}

	@Test
	void speaksTheNewestVersionOfTls() throws NoSuchAlgorithmException {
		assertThat(SSLContext.getDefault().getDefaultSSLParameters().getProtocols())
			.containsExactlyInAnyOrder("TLSv1.3", "TLSv1.2");
	}

}
