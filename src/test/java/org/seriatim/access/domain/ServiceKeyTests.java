package org.seriatim.access.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Base64;
import java.util.HexFormat;
import java.util.UUID;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalStateException;

class ServiceKeyTests {

	private static final UUID ACCOUNT = new UUID(1, 1);

	@TempDir
	Path folder;

	@Test
	void isMadeOnceForItsOwnerOnlyAndFoundAgain() throws IOException {
		var data = this.folder.resolve("data");
		var first = new ServiceKey(new KeySettings(data, null)).sign("device", "a browser");
		assertThat(new ServiceKey(new KeySettings(data, null)).sign("device", "a browser")).isEqualTo(first);
		assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(data.resolve("service.key"))))
			.isEqualTo("rw-------");
		assertThat(data).isDirectoryNotContaining((file) -> !file.endsWith("service.key"));
	}

	@Test
	void comesFromTheEnvironmentWhereItIsGiven() {
		var key = Base64.getEncoder().encodeToString(new byte[32]);
		var signed = new ServiceKey(new KeySettings(this.folder, key)).sign("device", "a browser");
		assertThat(signed).isNotEqualTo(
				new ServiceKey(new KeySettings(this.folder.resolve("other"), null)).sign("device", "a browser"));
		assertThat(this.folder.resolve("service.key")).doesNotExist();
	}

	@Test
	void stopsTheStartWhereItIsNone() {
		assertThatIllegalStateException()
			.isThrownBy(() -> new ServiceKey(new KeySettings(this.folder, "c2hvcnQ=")).require())
			.withMessageContaining("seriatim.key holds 5 bytes, not 32");
		assertThatIllegalStateException().isThrownBy(() -> new ServiceKey(new KeySettings(this.folder, "?")).require())
			.withMessageContaining("not base64");
	}

	@Test
	void signsEachPurposeDifferently() {
		var key = new ServiceKey(new KeySettings(this.folder, null));
		assertThat(key.sign("device", "text")).isNotEqualTo(key.sign("form owner", "text"));
	}

	@Test
	void sealsASecretForOneAccountUnderOneKey() {
		var secret = new byte[] { 1, 2, 3 };
		var sealed = new SealedSecrets(new ServiceKey(new KeySettings(this.folder, null)));
		var closed = sealed.seal(ACCOUNT, secret);
		assertThat(HexFormat.of().formatHex(closed)).doesNotContain(HexFormat.of().formatHex(secret));
		assertThat(sealed.open(ACCOUNT, closed)).contains(secret);
		assertThat(sealed.open(new UUID(1, 2), closed)).isEmpty();
		var other = new SealedSecrets(new ServiceKey(new KeySettings(this.folder.resolve("other"), null)));
		assertThat(other.open(ACCOUNT, closed)).isEmpty();
	}

}
