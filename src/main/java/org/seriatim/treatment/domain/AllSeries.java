package org.seriatim.treatment.domain;

import java.util.Optional;

import org.seriatim.treatment.SeriesId;
import org.springframework.data.repository.Repository;

/** The repository of {@link Series}, whose plural is itself. */
interface AllSeries extends Repository<Series, SeriesId> {

	Optional<Series> findById(SeriesId id);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Series saveAndFlush(Series series);

}
