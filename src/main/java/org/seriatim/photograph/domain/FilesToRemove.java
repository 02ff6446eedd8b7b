package org.seriatim.photograph.domain;

import java.util.UUID;

import org.seriatim.patient.PatientErased;
import org.seriatim.photograph.PhotographId;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.SchedulingConfigurer;
import org.springframework.scheduling.config.FixedDelayTask;
import org.springframework.scheduling.config.ScheduledTaskRegistrar;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.event.TransactionalEventListener;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * The list of files that belong to no photograph: of erased ones, and of those that are
 * being taken in, until their rows are there. It stands in the database, so that what a
 * crash or a locked disk left behind goes at the next start or a little later.
 */
@Component
class FilesToRemove implements SchedulingConfigurer {

	private final JdbcClient database;

	private final PhotographFiles files;

	private final LeftoverSettings settings;

	private final TransactionTemplate transaction;

	FilesToRemove(JdbcClient database, PhotographFiles files, LeftoverSettings settings,
			PlatformTransactionManager transactions) {
		this.database = database;
		this.files = files;
		this.settings = settings;
		this.transaction = new TransactionTemplate(transactions);
		this.transaction.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
	}

	/** Lists a file that is about to be written; that is committed at once. */
	void expect(PhotographId id) {
		// by the database's time, which is the same for all services on it
		this.transaction.executeWithoutResult((status) -> this.database.sql("""
				insert into photograph_file_to_remove (photograph_id, not_before)
				values (:id, now() + make_interval(secs => :seconds))""")
			.param("id", id.value())
			.param("seconds", this.settings.leftoversAfter().toSeconds())
			.update());
	}

	/**
	 * Takes a file off the list, in the transaction that writes its row.
	 * @throws IllegalStateException if that took so long that the file is gone
	 */
	void keep(PhotographId id) {
		if (unlist(id.value()) != 1) {
			throw new IllegalStateException("The file of photograph " + id + " was given up before its row was there");
		}
	}

	/** Removes a file whose row could not be written. */
	void giveUp(PhotographId id) {
		if (this.files.remove(id)) {
			this.transaction.executeWithoutResult((status) -> unlist(id.value()));
		}
	}

	private int unlist(UUID id) {
		return this.database.sql("delete from photograph_file_to_remove where photograph_id = :id")
			.param("id", id)
			.update();
	}

	@TransactionalEventListener
	void afterErasure(PatientErased erased) {
		removeListed();
	}

	@EventListener(ApplicationReadyEvent.class)
	void removeListed() {
		for (var id : due()) {
			this.transaction.executeWithoutResult((status) -> {
				if (unlist(id) == 1 && !this.files.remove(new PhotographId(id))) {
					status.setRollbackOnly();
				}
			});
		}
	}

	private Iterable<UUID> due() {
		return this.database.sql("select photograph_id from photograph_file_to_remove where not_before <= now()")
			.query(UUID.class)
			.list();
	}

	@Override
	public void configureTasks(ScheduledTaskRegistrar tasks) {
		var every = this.settings.leftoversEvery();
		if (!every.isZero()) {
			tasks.addFixedDelayTask(new FixedDelayTask(this::removeListed, every, every));
		}
	}

}
