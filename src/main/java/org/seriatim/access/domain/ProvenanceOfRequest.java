package org.seriatim.access.domain;

import java.util.Optional;

/** Tells where the request comes from that is being answered, where pages are served. */
public interface ProvenanceOfRequest {

	/** Empty where the thread answers none. */
	Optional<Provenance> now();

}
