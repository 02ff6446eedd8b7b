package org.seriatim.proof;

import java.util.Arrays;
import java.util.List;
import java.util.Random;

import org.seriatim.photograph.TestPictures;

/** Pictures of which something is not as it should be, and files that are none. */
final class MutatedPictures {

	/** Once in so many is as large as the largest that is taken. */
	private static final int LARGE = 250;

	private static final int LARGE_SIDE = 7_000;

	private static final int HEAD = 200;

	private final Random random;

	private final List<byte[]> originals = List.of(TestPictures.jpeg(320, 240), TestPictures.png(320, 240),
			TestPictures.jpegWithNote(320, 240, 6, "2026:11:02 10:00:00"), webp());

	private int round;

	MutatedPictures(long seed) {
		this.random = new Random(seed);
	}

	/**
	 * One file.
	 *
	 * @param how what was changed
	 */
	record Mutated(String how, byte[] file) {
	}

	Mutated next() {
		this.round++;
		if (this.round % LARGE == 0) {
			return new Mutated("as large as can be", TestPictures.jpeg(LARGE_SIDE, LARGE_SIDE));
		}
		var original = this.originals.get(this.random.nextInt(this.originals.size()));
		var how = this.random.nextInt(9);
		byte[] changed = switch (how) {
			case 0 -> flipped(original, original.length, 1);
			case 1 -> flipped(original, Math.min(HEAD, original.length), 1 + this.random.nextInt(6));
			case 2 -> Arrays.copyOf(original, this.random.nextInt(original.length));
			case 3 -> TestPictures.pngThatSays(side(), side());
			case 4 -> TestPictures.jpegThatSays(Math.min(side(), 65_535), Math.min(side(), 65_535));
			case 5 -> noise(original);
			case 6 -> Arrays.copyOf(original, original.length + this.random.nextInt(10_000));
			case 7 -> without(original);
			default ->
				flipped(TestPictures.jpegWithNote(240, 240, this.random.nextInt(20), "0000:99:99 99:99:99"), HEAD, 3);
		};
		return new Mutated("picture " + how, changed);
	}

	private int side() {
		return List.of(0, 1, 199, 7_071, 30_000, 65_535, 100_000, Integer.MAX_VALUE).get(this.random.nextInt(8));
	}

	private byte[] flipped(byte[] original, int within, int times) {
		var changed = original.clone();
		for (int time = 0; time < times; time++) {
			changed[this.random.nextInt(within)] ^= (byte) (1 << this.random.nextInt(8));
		}
		return changed;
	}

	/** A head that is right, and then anything. */
	private byte[] noise(byte[] original) {
		var changed = new byte[original.length];
		this.random.nextBytes(changed);
		System.arraycopy(original, 0, changed, 0, this.random.nextInt(Math.min(HEAD, original.length)));
		return changed;
	}

	/** A piece taken out of the middle. */
	private byte[] without(byte[] original) {
		var from = this.random.nextInt(original.length);
		var to = from + this.random.nextInt(original.length - from);
		var changed = Arrays.copyOf(original, original.length - (to - from));
		System.arraycopy(original, to, changed, from, original.length - to);
		return changed;
	}

	/** The head of one, as RFC 9649 has it; no decoder for the rest is at hand. */
	private static byte[] webp() {
		return Arrays.copyOf("RIFF\0\1\0\0WEBPVP8 \0\1\0\0".getBytes(java.nio.charset.StandardCharsets.ISO_8859_1),
				264);
	}

}
