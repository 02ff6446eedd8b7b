package org.seriatim.photograph.domain;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;

import org.seriatim.photograph.TestPictures;
import org.springframework.util.FileSystemUtils;

/**
 * The smallest heap in which photographs are taken in, to 16 MB, by a process of its own
 * for each try: pictures of several sizes, one alone and forty sent at once. The baseline
 * is one picture of twelve megapixels.
 */
final class PictureIntakeMemory {

	private static final int STEP_MB = 16;

	private static final int MOST_MB = 1024;

	private static final int SENDERS = 8;

	private PictureIntakeMemory() {
	}

	public static void main(String[] arguments) throws Exception {
		if (arguments.length == 2) {
			takeIn(Path.of(arguments[0]), Integer.parseInt(arguments[1]));
			System.exit(0);
		}
		var folder = Files.createTempDirectory("seriatim-pictures");
		try {
			measure(folder);
		}
		finally {
			FileSystemUtils.deleteRecursively(folder);
		}
	}

	private static void measure(Path folder) throws IOException, InterruptedException {
		double baseline = 0;
		System.out.printf("%10s %8s %18s %8s%n", "megapixels", "at once", "smallest heap, MB", "ratio");
		for (var size : List.of(new int[] { 4000, 3000 }, new int[] { 6000, 4000 }, new int[] { 8160, 6120 })) {
			var file = Files.write(folder.resolve(size[0] + ".jpg"), TestPictures.jpeg(size[0], size[1]));
			for (int count : new int[] { 1, 40 }) {
				int heap = smallestHeap(file, count);
				baseline = (baseline == 0) ? heap : baseline;
				System.out.printf("%10.1f %8d %18d %8.2f%n", size[0] * (double) size[1] / 1e6, count, heap,
						heap / baseline);
			}
		}
	}

	private static int smallestHeap(Path file, int count) throws IOException, InterruptedException {
		int tooSmall = 0;
		int enough = MOST_MB / STEP_MB;
		while (enough - tooSmall > 1) {
			int tried = (enough + tooSmall) / 2;
			if (succeeds(file, count, tried * STEP_MB)) {
				enough = tried;
			}
			else {
				tooSmall = tried;
			}
		}
		return enough * STEP_MB;
	}

	private static boolean succeeds(Path file, int count, int heapMb) throws IOException, InterruptedException {
		var process = new ProcessBuilder(Path.of(System.getProperty("java.home"), "bin", "java").toString(),
				"-Xmx" + heapMb + "m", "-XX:+UseSerialGC", "-XX:+ExitOnOutOfMemoryError", "-Djava.awt.headless=true",
				"-cp", System.getProperty("java.class.path"), PictureIntakeMemory.class.getName(), file.toString(),
				String.valueOf(count))
			.redirectErrorStream(true)
			.redirectOutput(ProcessBuilder.Redirect.DISCARD)
			.start();
		if (!process.waitFor(10, TimeUnit.MINUTES)) {
			process.destroyForcibly();
			return false;
		}
		return process.exitValue() == 0;
	}

	private static void takeIn(Path file, int count) throws Exception {
		var intake = new PictureIntake();
		var senders = Executors.newFixedThreadPool(SENDERS);
		var all = new ArrayList<Callable<Integer>>();
		for (int i = 0; i < count; i++) {
			all.add(() -> intake.read(() -> Files.newInputStream(file), Files.size(file)).width());
		}
		for (var answer : senders.invokeAll(all)) {
			answer.get();
		}
	}

}
