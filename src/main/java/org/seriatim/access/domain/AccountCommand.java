package org.seriatim.access.domain;

import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.Callable;

import org.seriatim.access.Role;
import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Option;
import picocli.CommandLine.TypeConversionException;

@Component
@Lazy
@Command(name = "account", mixinStandardHelpOptions = true,
		description = "Opens an account and prints its one-time password.")
class AccountCommand implements Callable<Integer> {

	@Option(names = "--name", required = true, description = "The name to sign in with.")
	String name = "";

	@Option(names = "--role", required = true, converter = RoleWord.class,
			description = "front_desk, assistant, practitioner, clinic_lead or administrator; may be repeated.")
	List<Role> roles = List.of();

	private final ManageAccounts accounts;

	AccountCommand(ManageAccounts accounts) {
		this.accounts = accounts;
	}

	@Override
	public Integer call() {
		Set<Role> distinct = EnumSet.copyOf(this.roles);
		System.out.println(this.accounts.open(this.name.strip(), distinct));
		return 0;
	}

	static final class RoleWord implements ITypeConverter<Role> {

		@Override
		public Role convert(String word) {
			for (Role role : Role.values()) {
				if (role.word().equals(word.toLowerCase(Locale.ROOT))) {
					return role;
				}
			}
			throw new TypeConversionException("'" + word + "' is no role");
		}

	}

}
