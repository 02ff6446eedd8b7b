package org.seriatim.photograph.domain;

import java.io.IOException;
import java.io.InputStream;
import java.time.DateTimeException;
import java.time.LocalDateTime;
import java.time.format.DateTimeFormatter;
import java.util.List;

import com.drew.imaging.ImageProcessingException;
import com.drew.imaging.jpeg.JpegMetadataReader;
import com.drew.metadata.Directory;
import com.drew.metadata.Metadata;
import com.drew.metadata.exif.ExifIFD0Directory;
import com.drew.metadata.exif.ExifReader;
import com.drew.metadata.exif.ExifSubIFDDirectory;
import org.jspecify.annotations.Nullable;
import org.springframework.core.io.InputStreamSource;

/**
 * What a camera wrote into the file beside the picture (Exif, CIPA DC-008), as far as it
 * is of use. Nothing of it is kept in the picture, least of all the place.
 *
 * @param orientation how the camera was held, 1 (upright) to 8
 */
record CameraNote(int orientation, @Nullable LocalDateTime takenAt, @Nullable String camera) {

	static final CameraNote NONE = new CameraNote(1, null, null);

	private static final DateTimeFormatter TIME = DateTimeFormatter.ofPattern("uuuu:MM:dd HH:mm:ss");

	private static final int LONGEST_NAME = 80;

	static CameraNote of(InputStreamSource file) {
		try (InputStream in = file.getInputStream()) {
			return of(JpegMetadataReader.readMetadata(in, List.of(new ExifReader())));
		}
		catch (ImageProcessingException | IOException | RuntimeException ex) {
			// a note that cannot be read is no reason to refuse the picture
			return NONE;
		}
	}

	private static CameraNote of(Metadata note) {
		var whole = note.getFirstDirectoryOfType(ExifIFD0Directory.class);
		var taking = note.getFirstDirectoryOfType(ExifSubIFDDirectory.class);
		var orientation = (whole != null) ? whole.getInteger(ExifIFD0Directory.TAG_ORIENTATION) : null;
		return new CameraNote((orientation != null && orientation >= 1 && orientation <= 8) ? orientation : 1,
				time(text(taking, ExifSubIFDDirectory.TAG_DATETIME_ORIGINAL)),
				text(whole, ExifIFD0Directory.TAG_MODEL));
	}

	private static @Nullable String text(@Nullable Directory directory, int tag) {
		var text = (directory != null) ? directory.getString(tag) : null;
		if (text == null) {
			return null;
		}
		var plain = text.replaceAll("\\p{Cntrl}", "").strip();
		return plain.isEmpty() ? null : plain.substring(0, Math.min(plain.length(), LONGEST_NAME)).strip();
	}

	private static @Nullable LocalDateTime time(@Nullable String text) {
		try {
			return (text != null) ? LocalDateTime.parse(text, TIME) : null;
		}
		catch (DateTimeException ex) {
			return null;
		}
	}

}
