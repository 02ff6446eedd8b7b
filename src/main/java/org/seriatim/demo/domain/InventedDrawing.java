package org.seriatim.demo.domain;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.geom.AffineTransform;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.awt.geom.Point2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import javax.imageio.ImageIO;

import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.MapPoint;
import org.seriatim.assessment.Region;

/**
 * Pictures of nobody: the face map and a patch of skin, drawn with flat colours and thick
 * lines so that nobody takes them for a photograph. No text is drawn, since a machine
 * without a screen may have no fonts.
 *
 * @param png the file
 * @param first a landmark, shares of width and height
 * @param second the other one
 */
record InventedDrawing(byte[] png, Point2D first, Point2D second) {

	private static final int WIDTH = 420;

	private static final int HEIGHT = 520;

	private static final Color PAPER = new Color(0xf3f0ea);

	private static final Color LINE = new Color(0x6b5b4e);

	private static final Point2D INNER_CORNER_RIGHT = new Point2D.Double(0.41, 0.4);

	private static final Point2D INNER_CORNER_LEFT = new Point2D.Double(0.59, 0.4);

	private static final Point2D MOLE = new Point2D.Double(0.2, 0.25);

	private static final Point2D OTHER_MOLE = new Point2D.Double(0.82, 0.7);

	/**
	 * How the camera was held: no two pictures of one face are congruent.
	 *
	 * @param right moved to the right, share of the width
	 * @param down moved down, share of the height
	 */
	record Pose(double right, double down, double turnDegrees, double scale) {

		private AffineTransform transform() {
			var transform = AffineTransform.getTranslateInstance(this.right * WIDTH, this.down * HEIGHT);
			transform.rotate(Math.toRadians(this.turnDegrees), WIDTH / 2.0, HEIGHT / 2.0);
			transform.translate(WIDTH / 2.0, HEIGHT / 2.0);
			transform.scale(this.scale, this.scale);
			transform.translate(-WIDTH / 2.0, -HEIGHT / 2.0);
			return transform;
		}

	}

	/**
	 * A face from the front.
	 * @param scars where they are on the face map
	 * @param depth how plainly they show, 0 to 1
	 * @param skin one of a few colours
	 */
	static InventedDrawing face(List<MapPoint> scars, double depth, int skin, Pose pose) {
		return drawn(pose, INNER_CORNER_RIGHT, INNER_CORNER_LEFT, (pen) -> {
			pen.setStroke(new BasicStroke(2));
			for (var region : Region.values()) {
				var outline = outline(region);
				pen.setColor(skin(skin));
				pen.fill(outline);
				pen.setColor(new Color(LINE.getRed(), LINE.getGreen(), LINE.getBlue(), 60));
				pen.draw(outline);
			}
			pen.setColor(LINE);
			pen.setStroke(new BasicStroke(4));
			for (var side : List.of(0.33, 0.67)) {
				pen.draw(round(side, 0.4, 0.08, 0.025));
				pen.fill(round(side, 0.4, 0.025, 0.02));
			}
			pen.draw(round(0.5, 0.68, 0.1, 0.02));
			scars.forEach((scar) -> scar(pen, scar.x(), scar.y(), 0.016, depth, skin));
		});
	}

	/** A patch of skin with one scar and two moles. */
	static InventedDrawing closeView(double depth, int skin, Pose pose) {
		return drawn(pose, MOLE, OTHER_MOLE, (pen) -> {
			pen.setColor(skin(skin));
			pen.fill(round(0.5, 0.5, 0.48, 0.46));
			pen.setColor(LINE);
			pen.setStroke(new BasicStroke(4));
			pen.draw(round(0.5, 0.5, 0.48, 0.46));
			pen.fill(round(MOLE.getX(), MOLE.getY(), 0.018, 0.015));
			pen.fill(round(OTHER_MOLE.getX(), OTHER_MOLE.getY(), 0.024, 0.02));
			scar(pen, 0.5, 0.5, 0.17, depth, skin);
		});
	}

	/** What is drawn, in pixels of a picture that was held straight. */
	@FunctionalInterface
	private interface Drawing {

		void by(Graphics2D pen);

	}

	private static InventedDrawing drawn(Pose pose, Point2D first, Point2D second, Drawing drawing) {
		var image = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
		var pen = image.createGraphics();
		pen.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
		pen.setColor(PAPER);
		pen.fillRect(0, 0, WIDTH, HEIGHT);
		pen.transform(pose.transform());
		drawing.by(pen);
		pen.dispose();
		var png = new ByteArrayOutputStream();
		try {
			ImageIO.write(image, "png", png);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
		return new InventedDrawing(png.toByteArray(), moved(first, pose), moved(second, pose));
	}

	private static Point2D moved(Point2D share, Pose pose) {
		var pixel = pose.transform().transform(new Point2D.Double(share.getX() * WIDTH, share.getY() * HEIGHT), null);
		return new Point2D.Double(pixel.getX() / WIDTH, pixel.getY() / HEIGHT);
	}

	/** A dip in raking light: a dark rim on one side, a bright one on the other. */
	private static void scar(Graphics2D pen, double x, double y, double size, double depth, int skin) {
		var strength = (int) Math.round(200 * depth);
		var high = size * WIDTH / HEIGHT;
		pen.setColor(new Color(120, 60, 50, strength));
		pen.fill(round(x, y, size, high));
		pen.setColor(skin(skin));
		pen.fill(round(x + size * 0.25, y + high * 0.25, size * 0.8, high * 0.8));
		pen.setColor(new Color(255, 250, 240, strength / 2));
		pen.fill(round(x + size * 0.4, y + high * 0.4, size * 0.5, high * 0.5));
	}

	private static Path2D outline(Region region) {
		var path = new Path2D.Double();
		for (var corner : FaceMap.outline(region).corners()) {
			if (path.getCurrentPoint() == null) {
				path.moveTo(corner.x() * WIDTH, corner.y() * HEIGHT);
			}
			else {
				path.lineTo(corner.x() * WIDTH, corner.y() * HEIGHT);
			}
		}
		path.closePath();
		return path;
	}

	private static Ellipse2D round(double x, double y, double wide, double high) {
		return new Ellipse2D.Double((x - wide) * WIDTH, (y - high) * HEIGHT, 2 * wide * WIDTH, 2 * high * HEIGHT);
	}

	private static Color skin(int which) {
		var skins = List.of(new Color(0xf0d5c0), new Color(0xe2bd9e), new Color(0xc79a76), new Color(0x9c7152));
		return skins.get(Math.floorMod(which, skins.size()));
	}

	/** A share as it is recorded. */
	static BigDecimal share(double value) {
		return BigDecimal.valueOf(value).setScale(5, RoundingMode.HALF_UP);
	}

}
