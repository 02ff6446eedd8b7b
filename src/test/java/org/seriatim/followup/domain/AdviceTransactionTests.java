package org.seriatim.followup.domain;

import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

import org.seriatim.followup.ARecord;
import org.seriatim.followup.CurrentAdvice;
import org.seriatim.patient.PatientRecordChanged;
import org.seriatim.support.PageTest;
import org.seriatim.treatment.SeriesId;
import org.seriatim.treatment.SessionId;

import static org.assertj.core.api.Assertions.assertThat;

/** A change of the record and the advice that follows from it stand or fall together. */
@PageTest
class AdviceTransactionTests {

	@Autowired
	private JdbcClient database;

	@Autowired
	private ApplicationEventPublisher events;

	@Autowired
	private CurrentAdvice currentAdvice;

	private TransactionTemplate transaction;

	private ARecord record;

	private SeriesId series;

	private SessionId session;

	@Autowired
	void transactions(PlatformTransactionManager transactions) {
		this.transaction = new TransactionTemplate(transactions);
	}

	@BeforeEach
	void openASeriesWithASession() {
		this.transaction.executeWithoutResult((status) -> {
			this.record = ARecord.of(this.database, "T-1");
			this.series = this.record.openSeries();
			this.session = this.record.session(this.series, 0);
			changed();
		});
	}

	private void changed() {
		this.events.publishEvent(new PatientRecordChanged(this.record.patient()));
	}

	@Test
	void fallsWithTheChange() {
		var before = this.currentAdvice.of(this.series);

		this.transaction.executeWithoutResult((status) -> {
			this.record.contact(this.session, 15);
			changed();
			assertThat(this.currentAdvice.of(this.series)).isNotEqualTo(before);
			status.setRollbackOnly();
		});

		assertThat(this.currentAdvice.of(this.series)).isEqualTo(before).isPresent();
	}

	/**
	 * Each of the two changes alone gives another advice than both together: a lump that
	 * lasted, and a finding that holds.
	 */
	@Test
	void seesBothOfTwoChangesAtTheSameTime() throws Exception {
		var written = new CountDownLatch(2);
		var lumpOfTheSession = this.record.finding(this.session, "lump", 0);
		var hold = change(written, (record) -> record.finding(this.session, "burn", 2));
		var lump = change(written, (record) -> {
			record.observe(lumpOfTheSession, 20, true);
			record.observe(lumpOfTheSession, 30, false);
		});

		CompletableFuture.allOf(hold, lump).get(30, TimeUnit.SECONDS);

		assertThat(this.currentAdvice.of(this.series).orElseThrow().advice().ruleWords()).containsExactly("hold",
				"persistent");
	}

	/**
	 * Both write before either advises, so that neither sees the other's change at first.
	 */
	private CompletableFuture<Void> change(CountDownLatch written, Consumer<ARecord> write) {
		return CompletableFuture.runAsync(() -> this.transaction.executeWithoutResult((status) -> {
			write.accept(this.record);
			written.countDown();
			try {
				assertThat(written.await(20, TimeUnit.SECONDS)).isTrue();
			}
			catch (InterruptedException ex) {
				Thread.currentThread().interrupt();
			}
			changed();
		}));
	}

}
