package org.seriatim.record.web;

import java.time.Clock;
import java.time.Duration;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.seriatim.finding.RaisedRedFlag;
import org.seriatim.finding.RedFlags;
import org.seriatim.record.domain.SeriesRecord;
import org.seriatim.shell.Written;
import org.springframework.stereotype.Component;

/**
 * Says when a possible emergency was raised, and how long it waited for a practitioner.
 */
@Component
class Waiting {

	private final RedFlags redFlags;

	private final StaffDirectory staff;

	private final Texts texts;

	private final Clock clock;

	Waiting(RedFlags redFlags, StaffDirectory staff, Texts texts, Clock clock) {
		this.redFlags = redFlags;
		this.staff = staff;
		this.texts = texts;
		this.clock = clock;
	}

	/**
	 * What was raised of the patient and is not closed; nothing is asked where no finding
	 * says so.
	 */
	List<RaisedRedFlag> openOf(SeriesRecord record) {
		return record.findings().stream().anyMatch((finding) -> finding.finding().isOpenRedFlag())
				? this.redFlags.openOf(record.patient().id()) : List.of();
	}

	String of(RaisedRedFlag flag) {
		var raised = this.texts.say("finding.red-flag.raised", Written.time(flag.raisedAt(), this.clock.getZone()),
				name(flag.raisedBy()));
		if (flag.acknowledgedAt() == null) {
			return raised + "; " + this.texts.say("record.alert.red-flag.waits",
					lasting(Duration.between(flag.raisedAt(), this.clock.instant())));
		}
		return raised + "; "
				+ this.texts.say("finding.red-flag.acknowledged",
						Written.time(flag.acknowledgedAt(), this.clock.getZone()), name(flag.acknowledgedBy()),
						flag.timeToAcknowledgement().map(this::lasting).orElse(""));
	}

	private String lasting(Duration duration) {
		if (duration.toDays() > 0) {
			return this.texts.say("finding.lasting.days", duration.toDays(), duration.toHoursPart());
		}
		return (duration.toHours() > 0)
				? this.texts.say("finding.lasting.hours", duration.toHours(), duration.toMinutesPart())
				: this.texts.say("finding.lasting.minutes", duration.toMinutes());
	}

	private String name(@Nullable StaffId id) {
		return (id == null) ? this.texts.say("finding.nobody-known")
				: this.staff.byId(id).map(StaffMember::name).orElseGet(() -> this.texts.say("finding.nobody-known"));
	}

}
