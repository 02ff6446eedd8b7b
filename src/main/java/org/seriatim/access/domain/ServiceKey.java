package org.seriatim.access.domain;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.util.Arrays;
import java.util.Base64;
import java.util.Set;
import java.util.UUID;

import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.InstallationKey;
import org.springframework.stereotype.Component;

/**
 * The one secret of an installation, from which a key for each purpose is derived. It
 * comes from the property {@code seriatim.key}, or else lies in a file of the data folder
 * that only the account of the service may read; whoever needs it first makes that file.
 * What is signed or encrypted with it becomes void with it.
 */
@Component
public class ServiceKey implements InstallationKey {

	private static final String FILE = "service.key";

	private static final int BYTES = 32;

	private static final String MAC = "HmacSHA256";

	private final KeySettings settings;

	private byte @Nullable [] master;

	ServiceKey(KeySettings settings) {
		this.settings = settings;
	}

	/**
	 * The key for one purpose, 256 bits: HMAC-SHA-256 of its name, so that no purpose can
	 * use what was made for another.
	 */
	byte[] forPurpose(String purpose) {
		return mac(master(), purpose.getBytes(StandardCharsets.UTF_8));
	}

	/** A mark under a text that nobody can make who doesn't hold the key. */
	@Override
	public String sign(String purpose, String text) {
		return Base64.getUrlEncoder()
			.withoutPadding()
			.encodeToString(mac(forPurpose(purpose), text.getBytes(StandardCharsets.UTF_8)));
	}

	@Override
	public String mark() {
		return sign("mark of the key", "");
	}

	@Override
	public synchronized void readAgain() {
		this.master = null;
	}

	/** Reads the key, or makes it, so that a start fails where a sign-in would. */
	public void require() {
		master();
	}

	private synchronized byte[] master() {
		byte[] known = this.master;
		if (known == null) {
			known = (this.settings.key() != null) ? decoded(this.settings.key(), "the property seriatim.key") : kept();
			this.master = known;
		}
		return known.clone();
	}

	private byte[] kept() {
		Path file = this.settings.data().toAbsolutePath().normalize().resolve(FILE);
		try {
			if (!Files.exists(file)) {
				make(file);
			}
			return decoded(Files.readString(file).strip(), "the file " + file);
		}
		catch (IOException ex) {
			throw new UncheckedIOException("The key of this installation, %s, cannot be read or made".formatted(file),
					ex);
		}
	}

	/*
	 * Written aside and then given its name, so that another process finds it whole or
	 * not at all; of two that make one, the first stays.
	 */
	private static void make(Path file) throws IOException {
		byte[] key = new byte[BYTES];
		new SecureRandom().nextBytes(key);
		Files.createDirectories(file.getParent(), ownerOnly("rwx------"));
		Path draft = file.resolveSibling(FILE + "." + UUID.randomUUID());
		Files.deleteIfExists(draft);
		try (var channel = FileChannel.open(draft, Set.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE),
				ownerOnly("rw-------"))) {
			Channels.newOutputStream(channel)
				.write((Base64.getEncoder().encodeToString(key) + "\n").getBytes(StandardCharsets.US_ASCII));
			channel.force(true);
		}
		try {
			Files.createLink(file, draft);
		}
		catch (FileAlreadyExistsException ex) {
			// another process was first
		}
		catch (UnsupportedOperationException ex) {
			Files.move(draft, file);
		}
		Files.deleteIfExists(draft);
	}

	private static FileAttribute<?>[] ownerOnly(String permissions) {
		return FileSystems.getDefault().supportedFileAttributeViews().contains("posix")
				? new FileAttribute<?>[] {
						PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions)) }
				: new FileAttribute<?>[0];
	}

	private static byte[] decoded(String text, String place) {
		byte[] key;
		try {
			key = Base64.getDecoder().decode(text);
		}
		catch (IllegalArgumentException ex) {
			throw new IllegalStateException(place + " holds no key: it is not base64");
		}
		if (key.length != BYTES) {
			throw new IllegalStateException("%s holds %d bytes, not %d".formatted(place, key.length, BYTES));
		}
		return key;
	}

	private static byte[] mac(byte[] key, byte[] text) {
		try {
			var mac = Mac.getInstance(MAC);
			mac.init(new SecretKeySpec(key, MAC));
			return mac.doFinal(text);
		}
		catch (GeneralSecurityException ex) {
			throw new IllegalStateException("every Java platform has " + MAC, ex);
		}
		finally {
			Arrays.fill(key, (byte) 0);
		}
	}

}
