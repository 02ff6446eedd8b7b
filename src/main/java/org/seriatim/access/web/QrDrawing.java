package org.seriatim.access.web;

import java.util.Map;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;

/**
 * A QR code as the path of a drawing, one unit a module, with the quiet zone of four
 * modules that ISO/IEC 18004 asks for.
 *
 * @param size width and height
 * @param path the dark modules, one run a line
 */
record QrDrawing(int size, String path) {

	private static final int QUIET_ZONE = 4;

	static QrDrawing of(String text) {
		try {
			var modules = new QRCodeWriter().encode(text, BarcodeFormat.QR_CODE, 0, 0,
					Map.of(EncodeHintType.MARGIN, QUIET_ZONE, EncodeHintType.ERROR_CORRECTION, ErrorCorrectionLevel.M));
			return new QrDrawing(modules.getWidth(), path(modules));
		}
		catch (WriterException ex) {
			throw new IllegalArgumentException("too long for a QR code", ex);
		}
	}

	private static String path(BitMatrix modules) {
		var path = new StringBuilder();
		for (int y = 0; y < modules.getHeight(); y++) {
			int x = 0;
			while (x < modules.getWidth()) {
				int from = x;
				while (x < modules.getWidth() && modules.get(x, y)) {
					x++;
				}
				if (x > from) {
					path.append("M%d %dh%dv1h-%dz".formatted(from, y, x - from, x - from));
				}
				else {
					x++;
				}
			}
		}
		return path.toString();
	}

}
