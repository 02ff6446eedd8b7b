package org.seriatim.exchange;

import java.util.List;
import java.util.function.Consumer;

/**
 * All problems of a bundle, by file, line and column. There may be more of them than fit
 * in memory.
 */
public interface ProblemReport {

	long count();

	/** The first problems, as many as one would read on a page. */
	List<Problem> first();

	/** Passes every problem, in order. */
	void forEach(Consumer<Problem> action);

	/** Forgets the problems, which may be about patients. */
	void discard();

}
