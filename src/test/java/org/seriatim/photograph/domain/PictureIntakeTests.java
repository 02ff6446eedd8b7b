package org.seriatim.photograph.domain;

import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.util.Arrays;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import java.util.zip.CRC32;
import java.util.zip.DeflaterOutputStream;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.seriatim.photograph.TestPictures;
import org.seriatim.photograph.domain.PictureRefused.Reason;
import org.springframework.core.io.ByteArrayResource;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

class PictureIntakeTests {

	private final PictureIntake intake = new PictureIntake();

	private Picture read(byte[] file) {
		return this.intake.read(new ByteArrayResource(file), file.length);
	}

	@ParameterizedTest
	@CsvSource({ "jpeg", "png" })
	void keepsAPictureAsJpegWithASmallOne(String format) {
		var picture = read(TestPictures.encoded(format, TestPictures.image(1200, 800)));
		assertThat(picture.width()).isEqualTo(1200);
		assertThat(picture.height()).isEqualTo(800);
		assertThat(picture.whole()).startsWith(0xff, 0xd8);
		var small = TestPictures.decoded(picture.small());
		assertThat(small.getWidth()).isEqualTo(480);
		assertThat(small.getHeight()).isEqualTo(320);
		assertThat(isRed(small, 20, 20)).isTrue();
	}

	/**
	 * The red corner was upper left for the eye. Where the stored corner lies, by
	 * orientation, is the table of Exif 2.32, CIPA DC-008, 4.6.4 A: row 0 and column 0 of
	 * what is stored are the eye's top and left (1), top and right (2), bottom and right
	 * (3), bottom and left (4), left and top (5), right and top (6), right and bottom
	 * (7), left and bottom (8).
	 */
	@ParameterizedTest
	@CsvSource({ "1, 10, 10", "2, 390, 10", "3, 390, 290", "4, 10, 290", "5, 10, 10", "6, 290, 10", "7, 290, 390",
			"8, 10, 390" })
	void turnsAPictureAsTheCameraWasHeld(int orientation, int redX, int redY) {
		var picture = read(TestPictures.jpegWithNote(400, 300, orientation, "2026:10:12 09:30:00"));
		var whole = TestPictures.decoded(picture.whole());
		assertThat(new int[] { whole.getWidth(), whole.getHeight() })
			.isEqualTo((orientation > 4) ? new int[] { 300, 400 } : new int[] { 400, 300 });
		assertThat(isRed(whole, redX, redY)).isTrue();
		assertThat(Stream
			.of(new int[] { 10, 10 }, new int[] { whole.getWidth() - 10, 10 }, new int[] { 10, whole.getHeight() - 10 },
					new int[] { whole.getWidth() - 10, whole.getHeight() - 10 })
			.filter((corner) -> isRed(whole, corner[0], corner[1]))).hasSize(1);
	}

	private static boolean isRed(BufferedImage image, int x, int y) {
		var colour = new Color(image.getRGB(x, y));
		return colour.getRed() > 200 && colour.getBlue() < 60;
	}

	@Test
	void readsTheCamerasNoteAndKeepsNothingOfIt() {
		var sent = TestPictures.jpegWithNote(400, 300, 1, "2026:10:12 09:30:00");
		assertThat(text(sent)).contains("Exif", TestPictures.CAMERA);
		var picture = read(sent);
		assertThat(picture.takenAt()).isEqualTo(LocalDateTime.of(2026, 10, 12, 9, 30));
		assertThat(picture.camera()).isEqualTo(TestPictures.CAMERA);
		assertThat(text(picture.whole())).doesNotContain("Exif", TestPictures.CAMERA, "2026:10:12");
		assertThat(text(picture.small())).doesNotContain("Exif", TestPictures.CAMERA, "2026:10:12");
	}

	private static String text(byte[] bytes) {
		return new String(bytes, StandardCharsets.ISO_8859_1);
	}

	@ParameterizedTest
	@CsvSource({ "0000:00:00 00:00:00", "yesterday", "''" })
	void aNoteThatMakesNoSenseIsNoReasonToRefuse(String time) {
		assertThat(read(TestPictures.jpegWithNote(400, 300, 9, time)).takenAt()).isNull();
	}

	@Test
	void makesAVeryLargePictureSmaller() {
		var picture = read(TestPictures.encoded("jpeg", new BufferedImage(8000, 4000, BufferedImage.TYPE_BYTE_GRAY)));
		assertThat(picture.width()).isEqualTo(4096);
		assertThat(picture.height()).isEqualTo(2048);
	}

	static Stream<Arguments> refused() {
		return Stream.of(Arguments.of("nothing", new byte[0], Reason.EMPTY),
				Arguments.of("a letter", "Dear Sir, your face".getBytes(StandardCharsets.UTF_8), Reason.NOT_A_PICTURE),
				Arguments.of("a GIF", TestPictures.encoded("gif", TestPictures.image(300, 300)), Reason.NOT_A_PICTURE),
				Arguments.of("a page", "<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>".getBytes(),
						Reason.NOT_A_PICTURE),
				Arguments.of("two bytes", new byte[] { (byte) 0xff, (byte) 0xd8 }, Reason.NOT_A_PICTURE),
				Arguments.of("a start and no more", new byte[] { (byte) 0xff, (byte) 0xd8, (byte) 0xff, (byte) 0xe0 },
						Reason.DAMAGED),
				Arguments.of("a thumbnail", TestPictures.jpeg(199, 400), Reason.TOO_FEW_PIXELS),
				Arguments.of("100 megapixels", TestPictures.jpegThatSays(10_000, 10_000), Reason.TOO_MANY_PIXELS),
				Arguments.of("a bomb", TestPictures.pngThatSays(30_000, 30_000), Reason.TOO_MANY_PIXELS),
				Arguments.of("a bomb beyond all numbers", TestPictures.pngThatSays(0x7fffffff, 0x7fffffff),
						Reason.TOO_MANY_PIXELS),
				Arguments.of("more pixels than there are", TestPictures.pngThatSays(240, 4000), Reason.DAMAGED),
				Arguments.of("a large file", new byte[(int) PictureIntake.MOST_BYTES + 1], Reason.TOO_LARGE));
	}

	@ParameterizedTest(name = "{0}")
	@MethodSource("refused")
	void refusesWhatIsNoPicture(String what, byte[] file, Reason reason) {
		assertThatExceptionOfType(PictureRefused.class).isThrownBy(() -> read(file))
			.satisfies((refusal) -> assertThat(refusal.reason()).isEqualTo(reason));
	}

	@ParameterizedTest
	@CsvSource({ "jpeg", "png" })
	void refusesAPictureThatWasCutOff(String format) {
		var whole = TestPictures.encoded(format, noise());
		IntStream.of(99, 95, 90, 75, 50, 25, 10, 5, 1).forEach((percent) -> {
			var part = Arrays.copyOf(whole, whole.length * percent / 100);
			assertThatExceptionOfType(PictureRefused.class).as("%d %% of a %s", percent, format)
				.isThrownBy(() -> read(part))
				.satisfies((refusal) -> assertThat(refusal.reason()).isEqualTo(Reason.DAMAGED));
		});
	}

	private static BufferedImage noise() {
		var random = new Random(7);
		var image = new BufferedImage(320, 240, BufferedImage.TYPE_INT_RGB);
		for (int at = 0; at < 320 * 240; at++) {
			image.setRGB(at % 320, at / 320, random.nextInt(0x1000000));
		}
		return image;
	}

	/**
	 * A text of 64 MB that packs into 64 kB: nobody asked for it, so nobody unpacks it.
	 */
	@Test
	void leavesAPackedTextPacked() throws IOException {
		var packed = new ByteArrayOutputStream();
		packed.writeBytes("Comment\0\0".getBytes(StandardCharsets.ISO_8859_1));
		try (var deflater = new DeflaterOutputStream(packed)) {
			for (int megabyte = 0; megabyte < 64; megabyte++) {
				deflater.write(new byte[1 << 20]);
			}
		}
		var plain = TestPictures.png(240, 240);
		var file = new ByteArrayOutputStream();
		file.write(plain, 0, 33);
		chunk(file, "zTXt", packed.toByteArray());
		file.write(plain, 33, plain.length - 33);
		assertThat(read(file.toByteArray()).width()).isEqualTo(240);
	}

	private static void chunk(ByteArrayOutputStream file, String type, byte[] content) {
		var body = new ByteArrayOutputStream();
		body.writeBytes(type.getBytes(StandardCharsets.US_ASCII));
		body.writeBytes(content);
		var check = new CRC32();
		check.update(body.toByteArray());
		file.writeBytes(number(content.length));
		file.writeBytes(body.toByteArray());
		file.writeBytes(number((int) check.getValue()));
	}

	private static byte[] number(int value) {
		return java.nio.ByteBuffer.allocate(4).putInt(value).array();
	}

	/** Whatever is in a file, it becomes a picture or is refused. */
	@ParameterizedTest
	@CsvSource({ "jpeg, 600", "png, 200" })
	void answersFilesWithWrongBytes(String format, int files) {
		var random = new Random(11);
		var whole = format.equals("jpeg") ? TestPictures.jpegWithNote(240, 240, 6, "2026:10:12 09:30:00")
				: TestPictures.png(240, 240);
		int kept = 0;
		for (int file = 0; file < files; file++) {
			var changed = whole.clone();
			for (int change = random.nextInt(6); change >= 0; change--) {
				// most of what can go wrong is said in the first bytes
				int reach = random.nextBoolean() ? Math.min(700, changed.length) : changed.length;
				changed[random.nextInt(reach)] = (byte) random.nextInt(256);
			}
			try {
				var picture = read(changed);
				assertThat(picture.whole()).isNotEmpty();
				kept++;
			}
			catch (PictureRefused ex) {
				assertThat(ex.reason()).isNotNull();
			}
		}
		assertThat(kept).isBetween(1, files - 1);
	}

}
