package org.seriatim.demo.domain;

import java.math.BigDecimal;
import java.time.LocalDate;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;

/**
 * A lump with the true day of its end; it enters the files only if somebody notices it.
 */
final class InventedLump {

	private final Region region;

	private final String scar;

	private final int session;

	private final LocalDate raised;

	private final LocalDate ends;

	private final boolean feltAtOnce;

	private @Nullable String finding;

	InventedLump(Region region, String scar, int session, LocalDate raised, LocalDate ends, boolean feltAtOnce) {
		this.region = region;
		this.scar = scar;
		this.session = session;
		this.raised = raised;
		this.ends = ends;
		this.feltAtOnce = feltAtOnce;
	}

	boolean isPresentOn(LocalDate day) {
		return day.isBefore(this.ends);
	}

	/**
	 * Notes what is felt on a day, as a new finding where it is the first time.
	 * @return whether it is gone, seen or unseen
	 */
	boolean observe(InventedClinic clinic, String recordNumber, LocalDate day, String reporter, String channel,
			BigDecimal sizeMm, boolean patientKnowsTheDay) {
		boolean present = isPresentOn(day);
		boolean gone = !present;
		if (this.finding == null) {
			if (!present && !this.feltAtOnce) {
				return true;
			}
			write(clinic, recordNumber, this.feltAtOnce ? this.raised : day, gone && patientKnowsTheDay);
		}
		clinic.add("finding_observations.csv", "finding", this.finding, "observed_on", day, "reporter", reporter,
				"channel", channel, "present", present ? "yes" : "no", "size_mm", present ? sizeMm : "");
		return gone;
	}

	/**
	 * A lump that was felt at the end of the session and about which nobody was asked
	 * since.
	 */
	void writeUnseen(InventedClinic clinic, String recordNumber) {
		if (this.finding == null && this.feltAtOnce) {
			write(clinic, recordNumber, this.raised, false);
		}
	}

	private void write(InventedClinic clinic, String recordNumber, LocalDate firstNoted, boolean endKnown) {
		this.finding = clinic.nextFinding();
		clinic.add("findings.csv", "finding", this.finding, "record_number", recordNumber, "session_number",
				this.session, "kind", "lump", "region", this.region.word(), "scar_label", this.scar, "first_noted_on",
				firstNoted, "grade", 1, "serious", "no", "gone_on", endKnown ? this.ends : "", "closed_on", "",
				"closed_by", "");
	}

}
