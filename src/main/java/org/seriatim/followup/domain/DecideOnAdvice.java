package org.seriatim.followup.domain;

import java.time.Clock;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.AuditLog;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.StaffDirectory;
import org.seriatim.followup.AdviceDecision;
import org.seriatim.followup.AdviceDecisions;
import org.seriatim.followup.AdviceId;
import org.seriatim.followup.AdviceReplaced;
import org.seriatim.followup.AdviceStatus;
import org.seriatim.followup.OverrideRefused;
import org.seriatim.followup.OverrideRefused.Why;
import org.seriatim.followup.StandingAdvice;

import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
@Transactional
class DecideOnAdvice implements AdviceDecisions {

	private final KeptAdvice kept;

	private final JdbcClient database;

	private final CurrentStaff currentStaff;

	private final StaffDirectory staff;

	private final AuditLog auditLog;

	private final Clock clock;

	DecideOnAdvice(KeptAdvice kept, JdbcClient database, CurrentStaff currentStaff, StaffDirectory staff,
			AuditLog auditLog, Clock clock) {
		this.kept = kept;
		this.database = database;
		this.currentStaff = currentStaff;
		this.staff = staff;
		this.auditLog = auditLog;
		this.clock = clock;
	}

	@Override
	public void accept(AdviceId advice) {
		decide(requireCurrent(advice), true, null, null, null);
	}

	@Override
	public void override(AdviceId advice, String reason, LocalDate first, LocalDate last) {
		var current = requireCurrent(advice);
		if (current.advice().status() == AdviceStatus.HOLD) {
			throw new OverrideRefused(Why.ON_HOLD);
		}
		if (!first.isAfter(current.advice().treatedOn())) {
			throw new OverrideRefused(Why.BEFORE_SESSION);
		}
		if (last.isBefore(first)) {
			throw new OverrideRefused(Why.LAST_BEFORE_FIRST);
		}
		if (reason.isBlank()) {
			throw new OverrideRefused(Why.NO_REASON);
		}
		decide(current, false, reason.strip(), first, last);
	}

	/** Holds the advice as it is until the decision is kept. */
	private StandingAdvice requireCurrent(AdviceId advice) {
		this.database.sql("select id from advice where id = :id for share")
			.param("id", advice.value())
			.query()
			.listOfRows();
		return this.kept.byId(advice).filter(StandingAdvice::isCurrent).orElseThrow(() -> new AdviceReplaced(advice));
	}

	private void decide(StandingAdvice advice, boolean accepted, @Nullable String reason, @Nullable LocalDate first,
			@Nullable LocalDate last) {
		var by = this.currentStaff.id()
			.orElseThrow(() -> new IllegalStateException("a decision needs somebody who takes it"));
		var member = this.staff.byId(by).orElseThrow();
		this.kept.keep(advice.id(), new AdviceDecision(member, this.clock.instant(), accepted, reason, first, last));
		this.auditLog.record(AuditLog.Action.DECIDED, "advice", advice.id().value(), advice.patient().value());
	}

}
