package org.seriatim.demo.domain;

import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;

/** A tracked scar with the true depth that no assessor ever sees without error. */
final class InventedScar {

	final String label;

	final Region region;

	final ScarType type;

	final double lengthMm;

	final double widthMm;

	final double baselineMm;

	double trueMm;

	InventedScar(String label, Region region, ScarType type, double lengthMm, double widthMm, double depthMm) {
		this.label = label;
		this.region = region;
		this.type = type;
		this.lengthMm = lengthMm;
		this.widthMm = widthMm;
		this.baselineMm = depthMm;
		this.trueMm = depthMm;
	}

	/** Mean fall of the logarithm of depth at one session. */
	double gain() {
		return switch (this.type) {
			case ICE_PICK -> 0.08;
			case BOXCAR -> 0.20;
			case ROLLING -> 0.28;
			default -> 0.12;
		};
	}

	static DepthClass depthClass(double depthMm) {
		return (depthMm < 0.1) ? DepthClass.MINIMAL : (depthMm < 0.5) ? DepthClass.SHALLOW : DepthClass.DEEP;
	}

}
