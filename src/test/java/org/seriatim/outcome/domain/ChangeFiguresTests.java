package org.seriatim.outcome.domain;

import java.util.ArrayList;
import java.util.List;

import org.junit.jupiter.api.Test;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

class ChangeFiguresTests {

	/**
	 * Five patients whose pore grades fall by 0, 1, 1, 1 and 2: the mean change is -1,
	 * its standard error sqrt(((1 + 0 + 0 + 0 + 1) / 4) / 5) = sqrt(0.1).
	 */
	@Test
	void meansChangesOfPairsWithTheirError() {
		var row = changes(0, 1, 1, 1, 2).rows().get(0);
		assertThat(row.patients()).isEqualTo(5);
		assertThat(row.before()).hasValueCloseTo(3.0, within(1e-12));
		assertThat(row.change()).hasValueCloseTo(-1.0, within(1e-12));
		assertThat(row.standardError()).hasValueCloseTo(Math.sqrt(0.1), within(1e-9));
	}

	@Test
	void fewPatientsHaveCountsOnly() {
		var row = changes(0, 1, 1, 1).rows().get(0);
		assertThat(row.pairs()).isEqualTo(4);
		assertThat(row.change()).isEmpty();
		assertThat(row.limits()).isNull();
	}

	/**
	 * Of five patients two see no change and three much improvement: 40 and 60 percent.
	 */
	@Test
	void globalImprovementIsSharesOfItsLevels() {
		var judged = new ArrayList<GaisFigures.Judgement>();
		for (int level : new int[] { 0, 0, 2, 2, 2 }) {
			judged.add(new GaisFigures.Judgement("p" + judged.size(), 1, "patient", level));
		}
		judged.add(new GaisFigures.Judgement("p0", 1, "practitioner", 3));
		var rows = GaisFigures.of(judged).rows();
		assertThat(rows).extracting(GaisFigures.Row::judgedBy).containsExactly("practitioner", "patient");
		assertThat(rows.get(0).shares()).isEmpty();
		assertThat(rows.get(1).shares()).isEqualTo(List.of(0.0, 0.4, 0.0, 0.6, 0.0));
	}

	private static ChangeFigures changes(int... falls) {
		var pairs = new ArrayList<ChangeFigures.Pair>();
		for (int fall : falls) {
			pairs.add(new ChangeFigures.Pair("p" + pairs.size(), "nose", 1, 3, 3 - fall));
		}
		return ChangeFigures.of(pairs);
	}

}
