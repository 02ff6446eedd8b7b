package org.seriatim.contactlink.domain;

import java.util.Set;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.contactlink.LinkSetUp;
import org.seriatim.finding.PatientReport.Lumps;
import org.seriatim.patient.PatientId;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
class SetUpLinks implements LinkSetUp {

	private final KeepLinkSettings settings;

	private final ContactLinks links;

	private final TakeAnswer answers;

	SetUpLinks(KeepLinkSettings settings, ContactLinks links, TakeAnswer answers) {
		this.settings = settings;
		this.links = links;
		this.answers = answers;
	}

	@Override
	@Transactional
	public void say(Words words) {
		var current = this.settings.current();
		this.settings.save(new LinkSettings(current.number(), words.clinicName(), words.clinicPhone(),
				words.emergencyText(), words.emergencyPhone(), words.readingTimes(), words.baseAddress(),
				current.days(), words.sender(), current.subject(), current.body()));
	}

	@Override
	public void make(PatientId patient) {
		this.links.make(patient);
	}

	@Override
	public void answer(PatientId patient, Lumps lumps, Set<Region> where, int painNrs, @Nullable String said) {
		this.answers.take(this.links.current(patient).orElseThrow(),
				new LinkAnswer(UUID.randomUUID(), Set.of(), lumps, where, painNrs, said, said));
	}

}
