package org.seriatim.finding.domain;

import java.util.List;
import java.util.Optional;

import org.seriatim.finding.ContactId;
import org.seriatim.treatment.SessionId;
import org.springframework.data.repository.Repository;

interface Contacts extends Repository<Contact, ContactId> {

	Optional<Contact> findById(ContactId id);

	List<Contact> findBySession(SessionId session);

	/** Writes at once, so that the database's own rules speak inside the use case. */
	Contact saveAndFlush(Contact contact);

}
