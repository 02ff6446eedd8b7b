package org.seriatim.photograph.domain;

import java.awt.Color;
import java.awt.RenderingHints;
import java.awt.geom.AffineTransform;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.util.Locale;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import javax.imageio.IIOImage;
import javax.imageio.ImageIO;
import javax.imageio.ImageReader;
import javax.imageio.ImageWriteParam;
import javax.imageio.stream.MemoryCacheImageInputStream;
import javax.imageio.stream.MemoryCacheImageOutputStream;

import org.jspecify.annotations.Nullable;
import org.seriatim.photograph.domain.PictureRefused.Reason;
import org.springframework.core.io.InputStreamSource;
import org.springframework.stereotype.Component;

/**
 * Reads a file that somebody sent and makes of it the picture that is kept. What comes in
 * may be anything: its kind is told by its content, its pixels are counted before one of
 * them is read, one file is read at a time, and what takes too long is given up, so that
 * memory and time are bounded whatever is sent.
 */
@Component
class PictureIntake {

	/** Bytes of a file at most. */
	static final long MOST_BYTES = 25L << 20;

	/** Pixels at most: what the better cameras take, and half of 100 megapixels. */
	static final long MOST_PIXELS = 50_000_000;

	/** Width and height at least; less shows no scar. */
	static final int FEWEST_PIXELS = 200;

	/** Width or height of what is kept at most: 0.1 mm on a face that fills it. */
	static final int LONGEST = 4096;

	/** Width or height of the small picture at most. */
	static final int SMALL = 480;

	/** Bytes of an image in memory at most; beyond it every second pixel is left out. */
	private static final long MOST_MEMORY = 96L << 20;

	private static final float QUALITY = 0.92f;

	private static final Duration LONGEST_READING = Duration.ofSeconds(30);

	private static final Duration LONGEST_WAITING = Duration.ofMinutes(2);

	private static final int BITS_OF_BYTE = 8;

	private final Semaphore turn = new Semaphore(1, true);

	/**
	 * @param size of the file in bytes
	 * @throws PictureRefused if it is no picture that can be kept
	 */
	Picture read(InputStreamSource file, long size) {
		if (size == 0) {
			throw new PictureRefused(Reason.EMPTY);
		}
		if (size > MOST_BYTES) {
			throw new PictureRefused(Reason.TOO_LARGE);
		}
		await();
		try {
			return readNow(file);
		}
		catch (IOException ex) {
			throw new PictureRefused(Reason.DAMAGED, ex);
		}
		finally {
			this.turn.release();
		}
	}

	private void await() {
		try {
			if (!this.turn.tryAcquire(LONGEST_WAITING.toMillis(), TimeUnit.MILLISECONDS)) {
				throw new PictureRefused(Reason.BUSY);
			}
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			throw new PictureRefused(Reason.BUSY, ex);
		}
	}

	private Picture readNow(InputStreamSource file) throws IOException {
		var digest = sha256();
		byte[] head;
		try (var in = new DigestInputStream(file.getInputStream(), digest)) {
			head = in.readNBytes(BITS_OF_BYTE);
			in.transferTo(java.io.OutputStream.nullOutputStream());
		}
		String kind = kind(head);
		var note = kind.equals("jpeg") ? CameraNote.of(file) : CameraNote.NONE;
		BufferedImage upright = upright(decode(file, kind), note.orientation());
		byte[] whole = jpeg(upright);
		return new Picture(whole, jpeg(within(upright, SMALL)), upright.getWidth(), upright.getHeight(),
				sha256().digest(whole), digest.digest(), note.takenAt(), note.camera());
	}

	/** What the first bytes say; a name says nothing. */
	private static String kind(byte[] head) {
		if (head.length > 3 && (head[0] & 0xff) == 0xff && (head[1] & 0xff) == 0xd8 && (head[2] & 0xff) == 0xff) {
			return "jpeg";
		}
		if (head.length == BITS_OF_BYTE && (head[0] & 0xff) == 0x89 && head[1] == 'P' && head[2] == 'N'
				&& head[3] == 'G') {
			return "png";
		}
		throw new PictureRefused(Reason.NOT_A_PICTURE);
	}

	private static BufferedImage decode(InputStreamSource file, String kind) throws IOException {
		var reader = ImageIO.getImageReadersByFormatName(kind).next();
		try (InputStream in = file.getInputStream(); var stream = new MemoryCacheImageInputStream(in)) {
			// nothing but the pixels is wanted; what else is in the file is not even
			// unpacked
			reader.setInput(stream, true, true);
			int width = reader.getWidth(0);
			int height = reader.getHeight(0);
			if ((long) width * height > MOST_PIXELS) {
				throw new PictureRefused(Reason.TOO_MANY_PIXELS);
			}
			if (Math.min(width, height) < FEWEST_PIXELS) {
				throw new PictureRefused(Reason.TOO_FEW_PIXELS);
			}
			return pixels(reader, (long) width * height);
		}
		catch (RuntimeException ex) {
			if (ex instanceof PictureRefused) {
				throw ex;
			}
			// the decoders answer a file that contradicts itself with whatever it broke
			throw new PictureRefused(Reason.DAMAGED, ex);
		}
		finally {
			reader.dispose();
		}
	}

	private static BufferedImage pixels(ImageReader reader, long count) throws IOException {
		var types = reader.getImageTypes(0);
		int bits = types.hasNext() ? types.next().getColorModel().getPixelSize() : 3 * BITS_OF_BYTE;
		long memory = count * Math.max(bits, BITS_OF_BYTE) / BITS_OF_BYTE;
		int step = 1;
		while (memory / ((long) step * step) > MOST_MEMORY) {
			step++;
		}
		var parameters = reader.getDefaultReadParam();
		parameters.setSourceSubsampling(step, step, 0, 0);
		var warning = new AtomicReference<@Nullable String>();
		reader.addIIOReadWarningListener((source, text) -> warning.compareAndSet(null, text));
		var image = withinTime(reader, () -> reader.read(0, parameters));
		if (isCutOff(warning.get())) {
			throw new PictureRefused(Reason.DAMAGED);
		}
		return image;
	}

	/* The decoder fills what is missing with grey and only warns. */
	private static boolean isCutOff(@Nullable String warning) {
		if (warning == null) {
			return false;
		}
		var words = warning.toLowerCase(Locale.ROOT);
		return words.contains("premature") || words.contains("truncated") || words.contains("eoi")
				|| words.contains("corrupt");
	}

	private interface Reading {

		BufferedImage read() throws IOException;

	}

	private static BufferedImage withinTime(ImageReader reader, Reading reading) throws IOException {
		var aborted = new AtomicReference<>(false);
		ScheduledExecutorService watch = Executors.newSingleThreadScheduledExecutor();
		try {
			watch.schedule(() -> {
				aborted.set(true);
				reader.abort();
			}, LONGEST_READING.toMillis(), TimeUnit.MILLISECONDS);
			var image = reading.read();
			if (aborted.get()) {
				throw new PictureRefused(Reason.DAMAGED);
			}
			return image;
		}
		finally {
			watch.shutdownNow();
		}
	}

	/**
	 * Turned as the camera was held, in sRGB, no longer than what is kept.
	 * @param orientation 1 to 8 as Exif numbers them (CIPA DC-008): 2, 4, 5 and 7 are
	 * mirrored, 5 to 8 lie on their side
	 */
	static BufferedImage upright(BufferedImage image, int orientation) {
		double width = image.getWidth();
		double height = image.getHeight();
		double scale = Math.min(1, LONGEST / Math.max(width, height));
		boolean onItsSide = orientation > 4;
		var place = AffineTransform.getScaleInstance(scale, scale);
		place.concatenate(switch (orientation) {
			case 2 -> new AffineTransform(-1, 0, 0, 1, width, 0);
			case 3 -> new AffineTransform(-1, 0, 0, -1, width, height);
			case 4 -> new AffineTransform(1, 0, 0, -1, 0, height);
			case 5 -> new AffineTransform(0, 1, 1, 0, 0, 0);
			case 6 -> new AffineTransform(0, 1, -1, 0, height, 0);
			case 7 -> new AffineTransform(0, -1, -1, 0, height, width);
			case 8 -> new AffineTransform(0, -1, 1, 0, 0, width);
			default -> new AffineTransform();
		});
		return drawn(image, place, (int) Math.round((onItsSide ? height : width) * scale),
				(int) Math.round((onItsSide ? width : height) * scale));
	}

	/** Halved as often as it takes, so that no pixel is passed over, then fitted. */
	private static BufferedImage within(BufferedImage image, int longest) {
		var smaller = image;
		double scale = (double) longest / Math.max(smaller.getWidth(), smaller.getHeight());
		while (scale < 0.5) {
			smaller = scaled(smaller, 0.5);
			scale = (double) longest / Math.max(smaller.getWidth(), smaller.getHeight());
		}
		return (scale < 1) ? scaled(smaller, scale) : smaller;
	}

	private static BufferedImage scaled(BufferedImage image, double scale) {
		return drawn(image, AffineTransform.getScaleInstance(scale, scale),
				Math.max(1, (int) Math.round(image.getWidth() * scale)),
				Math.max(1, (int) Math.round(image.getHeight() * scale)));
	}

	private static BufferedImage drawn(BufferedImage image, AffineTransform place, int width, int height) {
		var drawn = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
		var pen = drawn.createGraphics();
		pen.setColor(Color.WHITE);
		pen.fillRect(0, 0, width, height);
		pen.setRenderingHint(RenderingHints.KEY_INTERPOLATION, RenderingHints.VALUE_INTERPOLATION_BILINEAR);
		pen.drawImage(image, place, null);
		pen.dispose();
		return drawn;
	}

	private static byte[] jpeg(BufferedImage image) throws IOException {
		var writer = ImageIO.getImageWritersByFormatName("jpeg").next();
		var bytes = new ByteArrayOutputStream();
		try (var out = new MemoryCacheImageOutputStream(bytes)) {
			writer.setOutput(out);
			var parameters = writer.getDefaultWriteParam();
			parameters.setCompressionMode(ImageWriteParam.MODE_EXPLICIT);
			parameters.setCompressionQuality(QUALITY);
			writer.write(null, new IIOImage(image, null, null), parameters);
		}
		finally {
			writer.dispose();
		}
		return bytes.toByteArray();
	}

	static MessageDigest sha256() {
		try {
			return MessageDigest.getInstance("SHA-256");
		}
		catch (NoSuchAlgorithmException ex) {
			throw new IllegalStateException("every Java platform has SHA-256", ex);
		}
	}

}
