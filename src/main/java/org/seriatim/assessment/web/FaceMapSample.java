package org.seriatim.assessment.web;

import java.util.ArrayList;
import java.util.List;

import org.seriatim.assessment.DepthClass;
import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.FaceMark;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarType;
import org.seriatim.shell.ComponentSample;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** An invented face for the page of all components: each type and each response. */
@Configuration(proxyBeanMethods = false)
class FaceMapSample {

	@Bean
	ComponentSample faceMap() {
		return new ComponentSample("assessment.face-map.sample", "assessment/face-map :: face-map(${contents})",
				marks());
	}

	private static List<FaceMark> marks() {
		var regions = List.of(Region.CHEEK_MEDIAL_RIGHT, Region.CHEEK_LATERAL_RIGHT, Region.TEMPLE_RIGHT,
				Region.FOREHEAD, Region.CHEEK_MEDIAL_LEFT, Region.CHEEK_LATERAL_LEFT, Region.CHIN, Region.JAWLINE_LEFT,
				Region.CHEEK_MEDIAL_RIGHT, Region.CHEEK_MEDIAL_LEFT);
		var responses = List.of("better", "better", "same", "resolved", "worse", "unknown", "same", "unknown", "better",
				"same");
		var marks = new ArrayList<FaceMark>();
		for (var i = 0; i < regions.size(); i++) {
			var type = ScarType.values()[i % ScarType.values().length];
			var centre = FaceMap.centre(regions.get(i));
			var placed = i != 5;
			marks.add(new FaceMark("S" + (i + 1), regions.get(i), type,
					ScarGlyph.hasDepth(type) && i != 2 ? DepthClass.values()[2 - i % 3] : null,
					placed ? centre.x() - 0.01 + 0.01 * (i % 3) : null, placed ? centre.y() : null, responses.get(i),
					"", "#showing"));
		}
		return marks;
	}

}
