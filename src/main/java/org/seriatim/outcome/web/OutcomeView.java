package org.seriatim.outcome.web;

import java.util.ArrayList;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.outcome.domain.OutcomeFlow;
import org.seriatim.shell.Plot;

/**
 * A page of the clinic's figures: filters, whom they are about, and section by section
 * plots and tables with what they rest on.
 *
 * @param flow none where the filters are wrong
 * @param leftOut what entered no figure, and why
 */
record OutcomeView(String title, String lead, FilterBar bar, @Nullable OutcomeFlow flow, List<String> leftOut,
		List<Section> sections) {

	/**
	 * @param id for links to it
	 * @param said what its figures rest on, sentence by sentence
	 * @param cautions what they cannot show
	 */
	record Section(String id, String title, @Nullable String lead, List<Drawing> drawings, List<Table> tables,
			List<String> said, List<String> cautions, List<Link> links) {
	}

	/**
	 * A plot with the table behind it.
	 *
	 * @param summary what it shows, for who cannot see it
	 * @param csv address of its figures as a file
	 */
	record Drawing(String title, String summary, Plot plot, Figures figures, @Nullable String note,
			@Nullable String csv) {
	}

	/**
	 * @param csv address of the same figures as a file
	 */
	record Table(Figures figures, @Nullable String csv) {

		/** Rows that fit on a screen. */
		private static final int SHORT = 40;

		/** Whether it is shown when asked for only. */
		public boolean isLong() {
			return this.figures.rows().size() > SHORT;
		}

	}

	/** A way on from a section. */
	record Link(String href, String label) {
	}

	/** Writes one section. */
	static final class Writing {

		private final String id;

		private final String title;

		private @Nullable String lead;

		private final List<Drawing> drawings = new ArrayList<>();

		private final List<Table> tables = new ArrayList<>();

		private final List<String> said = new ArrayList<>();

		private final List<String> cautions = new ArrayList<>();

		private final List<Link> links = new ArrayList<>();

		Writing(String id, String title) {
			this.id = id;
			this.title = title;
		}

		Writing lead(String text) {
			this.lead = text;
			return this;
		}

		Writing draw(Drawing drawing) {
			this.drawings.add(drawing);
			return this;
		}

		Writing table(Figures figures, @Nullable String csv) {
			this.tables.add(new Table(figures, csv));
			return this;
		}

		Writing say(String sentence) {
			this.said.add(sentence);
			return this;
		}

		Writing caution(String sentence) {
			this.cautions.add(sentence);
			return this;
		}

		Writing link(String href, String label) {
			this.links.add(new Link(href, label));
			return this;
		}

		Section done() {
			return new Section(this.id, this.title, this.lead, List.copyOf(this.drawings), List.copyOf(this.tables),
					List.copyOf(this.said), List.copyOf(this.cautions), List.copyOf(this.links));
		}

	}

}
