package org.seriatim.access.domain;

import java.util.UUID;

import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** What takes effect on an account at once: every way into it is shut with it. */
@Service
@Transactional
public class CloseAccount {

	private final ManageAccounts accounts;

	private final Invitations invitations;

	private final SignIns signIns;

	private final ApiTokens tokens;

	private final SecondFactors secondFactors;

	private final EmergencyAccesses emergencies;

	CloseAccount(ManageAccounts accounts, Invitations invitations, SignIns signIns, ApiTokens tokens,
			SecondFactors secondFactors, EmergencyAccesses emergencies) {
		this.accounts = accounts;
		this.invitations = invitations;
		this.signIns = signIns;
		this.tokens = tokens;
		this.secondFactors = secondFactors;
		this.emergencies = emergencies;
	}

	/**
	 * Deactivates the account: its sign-ins end, its tokens and invitations are void and
	 * stay so.
	 * @throws LastAdministrator if nobody would be left who can manage accounts
	 */
	public void deactivate(UUID account) {
		this.accounts.deactivate(account);
		this.invitations.withdraw(account);
		this.tokens.revokeAll(account);
		this.emergencies.end(account);
		this.signIns.endAll(account, SignIns.End.DEACTIVATION, null);
	}

	/**
	 * For an owner who lost the second factor: it is taken off, together with the
	 * password, so that nothing but the invitation, handed over to a person whom the
	 * administrator knows, opens the account again.
	 * @throws LastAdministrator if nobody would be left who can manage accounts
	 */
	public Invitations.Invitation startAnew(UUID account) {
		this.accounts.forgetPassword(account);
		this.secondFactors.remove(account);
		this.signIns.endAll(account, SignIns.End.ADMINISTRATOR, null);
		return this.invitations.invite(account);
	}

}
