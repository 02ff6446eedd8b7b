package org.seriatim.exchange;

/** Is told how far an import has come. */
@FunctionalInterface
public interface ImportProgress {

	/** Tells nobody. */
	ImportProgress UNWATCHED = (stage, file, done, total) -> {
	};

	/**
	 * The import goes on.
	 * @param stage what it does
	 * @param file the file that it does it with, or nothing
	 * @param done how much of the stage is done
	 * @param total how much there is to do in the stage; the unit differs from stage to
	 * stage
	 */
	void at(Stage stage, String file, long done, long total);

	/** The stages of an import, in order. */
	enum Stage {

		READING, CHECKING, WRITING, FOLLOWING_UP

	}

}
