package org.seriatim.finding.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Set;

import org.seriatim.finding.Channel;
import org.seriatim.finding.ContactId;
import org.seriatim.finding.ContactOutcome;
import org.seriatim.finding.PatientReport;
import org.seriatim.finding.PatientReports;
import org.seriatim.finding.RedFlagSign;
import org.seriatim.finding.Reporter;
import org.seriatim.patient.PatientId;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
class TakePatientReport implements PatientReports {

	private final RaiseRedFlag raise;

	private final RecordContact contacts;

	private final Clock clock;

	TakePatientReport(RaiseRedFlag raise, RecordContact contacts, Clock clock) {
		this.raise = raise;
		this.contacts = contacts;
		this.clock = clock;
	}

	@Override
	public void alarm(PatientId patient, Set<RedFlagSign> signs) {
		this.raise.of(patient, signs, Reporter.PATIENT, Channel.LINK);
	}

	@Override
	@Transactional
	public ContactId take(PatientReport report) {
		var lumps = (report.lumps() == null) ? null : switch (report.lumps()) {
			case PRESENT -> Boolean.TRUE;
			case ABSENT -> Boolean.FALSE;
			case UNSURE -> null;
		};
		var details = new ContactDetails(LocalDate.now(this.clock), Channel.LINK, ContactOutcome.REACHED, lumps,
				report.painNrs(), report.note());
		return this.contacts.toldByLink(report.session(), details, report.lumps() == PatientReport.Lumps.UNSURE,
				report.where());
	}

}
