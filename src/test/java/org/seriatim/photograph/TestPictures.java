package org.seriatim.photograph;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.zip.CRC32;
import javax.imageio.ImageIO;

/** Pictures as cameras send them, and files that only pretend to be some. */
public final class TestPictures {

	/** What a camera wrote about itself and where it was. */
	public static final String CAMERA = "Bench camera 60";

	private TestPictures() {
	}

	/** Blue, with a red field at the upper left, a quarter wide and high. */
	public static BufferedImage image(int width, int height) {
		var image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
		var pen = image.createGraphics();
		pen.setColor(Color.BLUE);
		pen.fillRect(0, 0, width, height);
		pen.setColor(Color.RED);
		pen.fillRect(0, 0, width / 4, height / 4);
		pen.dispose();
		return image;
	}

	public static byte[] jpeg(int width, int height) {
		return encoded("jpeg", image(width, height));
	}

	public static byte[] png(int width, int height) {
		return encoded("png", image(width, height));
	}

	public static byte[] encoded(String format, BufferedImage image) {
		try {
			var bytes = new ByteArrayOutputStream();
			ImageIO.write(image, format, bytes);
			return bytes.toByteArray();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	public static BufferedImage decoded(byte[] picture) {
		try {
			return ImageIO.read(new ByteArrayInputStream(picture));
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/**
	 * A JPEG with the note of a camera (Exif 2.32, CIPA DC-008, 4.6): its name, how it
	 * was held, when the picture was taken, and the latitude.
	 */
	public static byte[] jpegWithNote(int width, int height, int orientation, String takenAt) {
		var plain = jpeg(width, height);
		var note = note(orientation, takenAt);
		var whole = ByteBuffer.allocate(plain.length + note.length + 4);
		whole.put(plain, 0, 2).putShort((short) 0xffe1).putShort((short) (note.length + 2)).put(note);
		return whole.put(plain, 2, plain.length - 2).array();
	}

	private static byte[] note(int orientation, String takenAt) {
		var camera = (CAMERA + "\0").getBytes(StandardCharsets.US_ASCII);
		var time = (takenAt + "\0").getBytes(StandardCharsets.US_ASCII);
		int entries = 8 + 2 + 4 * 12 + 4;
		int taking = entries + camera.length + (camera.length & 1);
		int timeAt = taking + 2 + 12 + 4;
		int place = timeAt + time.length + (time.length & 1);
		var tiff = ByteBuffer.allocate(place + 2 + 2 * 12 + 4 + 24).order(ByteOrder.LITTLE_ENDIAN);
		tiff.put(new byte[] { 'I', 'I' }).putShort((short) 42).putInt(8).putShort((short) 4);
		entry(tiff, 0x0110, 2, camera.length, entries);
		entry(tiff, 0x0112, 3, 1, orientation);
		entry(tiff, 0x8769, 4, 1, taking);
		entry(tiff, 0x8825, 4, 1, place);
		tiff.putInt(0).put(camera).position(taking);
		tiff.putShort((short) 1);
		entry(tiff, 0x9003, 2, time.length, timeAt);
		tiff.putInt(0).put(time).position(place);
		tiff.putShort((short) 2);
		entry(tiff, 0x0001, 2, 2, 'N');
		entry(tiff, 0x0002, 5, 3, place + 2 + 2 * 12 + 4);
		tiff.putInt(0);
		for (int number : new int[] { 52, 1, 31, 1, 12, 1 }) {
			tiff.putInt(number);
		}
		return ByteBuffer.allocate(6 + tiff.capacity())
			.put("Exif\0\0".getBytes(StandardCharsets.US_ASCII))
			.put(tiff.array())
			.array();
	}

	private static void entry(ByteBuffer tiff, int tag, int type, int count, int value) {
		tiff.putShort((short) tag).putShort((short) type).putInt(count).putInt(value);
	}

	/** A PNG of a few bytes that says it has so many pixels. */
	public static byte[] pngThatSays(int width, int height) {
		var plain = png(240, 240);
		var claimed = ByteBuffer.wrap(plain.clone());
		claimed.putInt(16, width).putInt(20, height);
		var check = new CRC32();
		check.update(claimed.array(), 12, 17);
		claimed.putInt(29, (int) check.getValue());
		return claimed.array();
	}

	/** A JPEG of a few bytes that says it has so many pixels. */
	public static byte[] jpegThatSays(int width, int height) {
		var bytes = jpeg(240, 240);
		for (int at = 2; at < bytes.length - 9; at++) {
			if ((bytes[at] & 0xff) == 0xff && (bytes[at + 1] & 0xff) == 0xc0) {
				ByteBuffer.wrap(bytes).putShort(at + 5, (short) height).putShort(at + 7, (short) width);
				return bytes;
			}
		}
		throw new IllegalStateException("a baseline JPEG has its frame");
	}

}
