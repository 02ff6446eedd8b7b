package org.seriatim.shell;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

/** Drawings the size of a word, and what a plot may hold. */
class PlotTests {

	@Test
	void drawsHalfTheValueAtHalfTheHeight() {
		var line = Sparkline.of(List.of(2.0, 1.0, 0.0));
		assertThat(line.path()).isEqualTo("M3.0 3.0L48.0 12.0L93.0 21.0");
		assertThat(line.points()).extracting(Sparkline.Dot::last).containsExactly(false, false, true);
	}

	@Test
	void interruptsTheLineWhereAStageHasNoValue() {
		var line = Sparkline.of(Arrays.asList(1.0, null, 1.0, null));
		assertThat(line.path()).isEqualTo("M3.0 3.0M63.0 3.0");
		assertThat(line.points()).extracting(Sparkline.Dot::last).containsExactly(false, true);
	}

	@Test
	void drawsNothingOfNothingAndAFloorOfZeros() {
		assertThat(Sparkline.of(Collections.singletonList(null)).points()).isEmpty();
		assertThat(Sparkline.of(List.of(0.0, 0.0)).path()).isEqualTo("M3.0 21.0L93.0 21.0");
	}

	@Test
	void drawsLinesOnOneScaleSoThatTheyCompare() {
		assertThat(Sparkline.of(List.of(0.5), 1).points()).extracting(Sparkline.Dot::y).containsExactly("12.0");
		assertThatIllegalArgumentException().isThrownBy(() -> Sparkline.of(List.of(-0.1)));
		assertThatIllegalArgumentException().isThrownBy(() -> Sparkline.of(List.of(Double.NaN)));
	}

	@Test
	void drawsAnIntervalOnItsScale() {
		var bar = IntervalBar.of(-50.0, 0.0, 50.0, -100, 100);
		assertThat(bar.start()).isEqualTo("33.0");
		assertThat(bar.length()).isEqualTo("54.0");
		assertThat(bar.estimate()).isEqualTo("60.0");
		assertThat(bar.openStart()).isFalse();
		assertThat(bar.openEnd()).isFalse();
		assertThat(bar.against(-100, -100, 100).reference()).isEqualTo("6.0");
	}

	@Test
	void showsAnArrowWhereAnIntervalIsOpenOrGoesOnBeyondTheScale() {
		var open = IntervalBar.of(null, null, 150.0, 0, 100);
		assertThat(open.openStart()).isTrue();
		assertThat(open.openEnd()).isTrue();
		assertThat(open.start()).isEqualTo("6.0");
		assertThat(open.length()).isEqualTo("108.0");
		assertThat(open.estimate()).isNull();
	}

	@Test
	void keepsAnIntervalWithoutLengthVisible() {
		assertThat(IntervalBar.of(20.0, 20.0, 20.0, 0, 100).length()).isEqualTo("1.0");
		assertThatIllegalArgumentException().isThrownBy(() -> IntervalBar.of(1.0, 1.0, 1.0, 5, 5));
	}

	@Test
	void holdsNoMoreSeriesThanCanBeToldApart() {
		var series = new Plot.Series("a", Plot.Shape.LINE, List.of());
		assertThatIllegalArgumentException()
			.isThrownBy(() -> new Plot(Plot.Axis.number("x"), Plot.Axis.number("y"), Collections.nCopies(7, series)));
	}

	@Test
	void putsADayAtItsMidnight() {
		assertThat(Plot.Point.on(LocalDate.of(1970, 1, 3), 1.0).x()).isEqualTo(2 * 24 * 3600 * 1000.0);
	}

}
