package org.seriatim.photograph.domain;

import java.util.UUID;

import org.seriatim.patient.PatientErased;
import org.seriatim.photograph.PhotographId;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.event.TransactionalEventListener;

/**
 * Removes the files of erased photographs. The erasure itself lists them in the database,
 * so that those that a crash or a locked disk left behind go at the next start.
 */
@Component
class RemoveErasedFiles {

	private final JdbcClient database;

	private final PhotographFiles files;

	RemoveErasedFiles(JdbcClient database, PhotographFiles files) {
		this.database = database;
		this.files = files;
	}

	@TransactionalEventListener
	void afterErasure(PatientErased erased) {
		removeListed();
	}

	@EventListener(ApplicationReadyEvent.class)
	void removeListed() {
		for (var id : this.database.sql("select photograph_id from photograph_file_to_remove")
			.query(UUID.class)
			.list()) {
			if (this.files.remove(new PhotographId(id))) {
				this.database.sql("delete from photograph_file_to_remove where photograph_id = :id")
					.param("id", id)
					.update();
			}
		}
	}

}
