package org.seriatim.treatment.domain;

import java.util.Optional;

import org.seriatim.treatment.SessionId;
import org.springframework.data.repository.Repository;

interface Sessions extends Repository<Session, SessionId> {

	Optional<Session> findById(SessionId id);

	/** For a new session only; a corrected one is written by {@link #flush()}. */
	Session save(Session session);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	void flush();

}
