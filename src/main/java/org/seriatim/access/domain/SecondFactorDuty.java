package org.seriatim.access.domain;

import java.util.Collections;
import java.util.EnumSet;
import java.util.Set;

import org.seriatim.access.DemoSignIns;
import org.seriatim.access.Role;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Component;

/**
 * Who must have a second factor: clinic leads and administrators. The invented people of
 * the demo clinic need none, and no setting frees anybody else.
 */
@Component
public class SecondFactorDuty {

	private static final Set<Role> BOUND = EnumSet.of(Role.CLINIC_LEAD, Role.ADMINISTRATOR);

	private final ObjectProvider<DemoSignIns> demo;

	private volatile boolean invented;

	SecondFactorDuty(ObjectProvider<DemoSignIns> demo) {
		this.demo = demo;
	}

	public boolean binds(Set<Role> roles) {
		return !Collections.disjoint(roles, BOUND) && !isInvented();
	}

	/** Once loaded, the invented clinic stays. */
	private boolean isInvented() {
		if (!this.invented) {
			this.invented = this.demo.stream().anyMatch((people) -> !people.list().isEmpty());
		}
		return this.invented;
	}

}
