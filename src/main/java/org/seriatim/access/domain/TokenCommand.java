package org.seriatim.access.domain;

import java.util.concurrent.Callable;

import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

@Component
@Lazy
@Command(name = "token", mixinStandardHelpOptions = true, description = "Makes a token for scripts and prints it.")
class TokenCommand implements Callable<Integer> {

	@Option(names = "--user", required = true, description = "The name of the account whose rights it carries.")
	String user = "";

	private final ApiTokens tokens;

	TokenCommand(ApiTokens tokens) {
		this.tokens = tokens;
	}

	@Override
	public Integer call() {
		var token = this.tokens.makeFor(this.user);
		if (token.isEmpty()) {
			System.err.println("There is no account named '" + this.user + "'.");
			return 1;
		}
		System.out.println(token.get());
		return 0;
	}

}
