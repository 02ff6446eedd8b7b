package org.seriatim.access.domain;

import java.util.List;
import java.util.Optional;
import java.util.UUID;

import org.seriatim.access.StaffId;
import org.springframework.data.repository.Repository;

interface Accounts extends Repository<Account, UUID> {

	/** Written at once, since other tables refer to it. */
	Account saveAndFlush(Account account);

	Optional<Account> findById(UUID id);

	Optional<Account> findByStaff(StaffId staff);

	List<Account> findAll();

	long count();

}
