package org.seriatim.finding.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.finding.FindingId;
import org.springframework.data.repository.Repository;

interface FindingReports extends Repository<FindingReport, FindingReportId> {

	Optional<FindingReport> findById(FindingReportId id);

	List<FindingReport> findByFindingOrderByConsideredOnAscId(FindingId finding);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	FindingReport saveAndFlush(FindingReport report);

}
