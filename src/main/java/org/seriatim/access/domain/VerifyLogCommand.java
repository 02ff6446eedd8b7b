package org.seriatim.access.domain;

import java.time.Clock;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.concurrent.Callable;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.domain.AuditAnchor.Head;
import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Option;
import picocli.CommandLine.TypeConversionException;

@Component
@Lazy
@Command(name = "verify-log", mixinStandardHelpOptions = true,
		description = "Verifies that the audit log is as it was written, and prints its end to be noted.")
class VerifyLogCommand implements Callable<Integer> {

	@Option(names = "--anchor", converter = Noted.class, paramLabel = "POSITION:HASH",
			description = "An end of the log that was noted before, instead of the one kept in the data folder.")
	@Nullable Head anchor;

	@Option(names = "--from", defaultValue = "1",
			description = "The first position to look at, where the key of what lies before is lost.")
	long from;

	private final VerifyAuditLog verification;

	private final AuditAnchor kept;

	private final Clock clock;

	VerifyLogCommand(VerifyAuditLog verification, AuditAnchor kept, Clock clock) {
		this.verification = verification;
		this.kept = kept;
		this.clock = clock;
	}

	@Override
	public Integer call() {
		var known = Optional.ofNullable(this.anchor).or(this.kept::read);
		var verdict = this.verification.andRecord(known, Math.max(1, this.from));
		if (verdict.fault().isPresent()) {
			var fault = verdict.fault().get();
			System.err.println("The audit log is not as it was written: " + fault.sentence() + ".");
			if (fault.position() != null && fault.position() == this.from) {
				System.err.println("If nothing before it is known to be sound, see first whether the key of this "
						+ "installation (seriatim.key, service.key) is the one that the log was written with.");
			}
			return 1;
		}
		System.out.printf("The audit log is as it was written: %d entries sealed%s%s.%n", verdict.sealed(),
				(verdict.sealedAt() != null) ? ", the last " + words(verdict.sealedAt()) : "",
				(verdict.fromBefore() > 0)
						? ", %d of them from before entries were marked".formatted(verdict.fromBefore()) : "");
		if (verdict.waiting() > 0 && verdict.waitingSince() != null) {
			System.out.printf("Not sealed yet: %d, the first of %s. A running service seals them.%n", verdict.waiting(),
					words(verdict.waitingSince()));
		}
		if (known.isEmpty()) {
			System.out.printf("There was no anchor, %s: an end that was cut off would not have been noticed.%n",
					this.kept.file());
		}
		if (verdict.head() != null) {
			System.out.printf("To be noted apart from this machine: %s%n", verdict.head().text());
		}
		return 0;
	}

	private String words(Instant at) {
		return DateTimeFormatter.ISO_OFFSET_DATE_TIME
			.format(at.truncatedTo(ChronoUnit.SECONDS).atZone(this.clock.getZone()));
	}

	static final class Noted implements ITypeConverter<Head> {

		@Override
		public Head convert(String text) {
			try {
				return Head.parse(text);
			}
			catch (IllegalArgumentException ex) {
				throw new TypeConversionException("'" + text + "' is not a position, a colon and a hash");
			}
		}

	}

}
