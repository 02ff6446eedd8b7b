package org.seriatim.access.web;

import java.util.regex.Pattern;

import com.google.zxing.NotFoundException;
import com.google.zxing.ReaderException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.decoder.Decoder;
import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;

class QrDrawingTests {

	private static final int QUIET_ZONE = 4;

	@Test
	void drawsWhatAReaderReads() throws ReaderException {
		String address = "otpauth://totp/Seriatim:l.hagen?secret=GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ&issuer=Seriatim";
		var drawing = QrDrawing.of(address);
		assertThat(new Decoder().decode(modules(drawing)).getText()).isEqualTo(address);
	}

	private static BitMatrix modules(QrDrawing drawing) throws NotFoundException {
		var modules = new BitMatrix(drawing.size() - 2 * QUIET_ZONE);
		Pattern.compile("M(\\d+) (\\d+)h(\\d+)v1h-\\d+z").matcher(drawing.path()).results().forEach((run) -> {
			int from = Integer.parseInt(run.group(1));
			for (int x = 0; x < Integer.parseInt(run.group(3)); x++) {
				modules.set(from + x - QUIET_ZONE, Integer.parseInt(run.group(2)) - QUIET_ZONE);
			}
		});
		return modules;
	}

}
