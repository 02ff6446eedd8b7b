package org.seriatim.proof;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.proof.Ledger.Known;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A service with its own database, killed at random moments while six people write:
 * itself, and the server of its database. The seed is fixed; {@code -Dfault.seed} tries
 * another.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class FaultTests {

	static final long SEED = Long.getLong("fault.seed", 20_261_201L);

	/** Of the service; a hundred in the profile {@code proof}. */
	private static final int KILLS = Integer.getInteger("fault.kills", 1);

	/** Of PostgreSQL; twenty in the profile {@code proof}. */
	private static final int DATABASE_KILLS = Integer.getInteger("fault.database-kills", 1);

	/** Milliseconds at most to a kill from when everybody has got an answer. */
	static final int LONGEST = 1_500;

	private static final Duration LEFTOVERS = Duration.ofSeconds(5);

	private static final int PATIENTS = 100;

	/** After so many kills the audit log is verified from its beginning. */
	private static final int KILLS_BETWEEN_VERIFICATIONS = 20;

	private final Random random = new Random(SEED);

	private final Ledger ledger = new Ledger();

	private final GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));

	private KillableService service;

	private Soundness soundness;

	private WritingLoad load;

	@BeforeAll
	void start(@TempDir Path folder) throws IOException {
		this.mail.start();
		this.service = new KillableService(folder.resolve("data"), 512, properties(this.mail, LEFTOVERS));
		this.service.start();
		var records = Records.embeddedIn(this.service.data());
		var links = PATIENTS + 15 * (KILLS + DATABASE_KILLS);
		var clinic = Clinic.in(records, this.service::address, folder, links + 4 * (links / 10), List.of("p.one"));
		this.soundness = new Soundness(records, this.ledger, this.service.data(), this.mail);
		this.load = new WritingLoad(
				new Writers(clinic, this.ledger, folder).at("p.one", this.service::address, SEED, links));
	}

	/**
	 * @param leftovers how long the file of a photograph may wait for its row
	 */
	static String[] properties(GreenMail mail, Duration leftovers, String... more) {
		var properties = new ArrayList<>(List.of("--spring.mail.host=127.0.0.1",
				"--spring.mail.port=" + mail.getSmtp().getPort(), "--seriatim.outbox.every=100ms",
				"--seriatim.photographs.leftovers-after=" + leftovers.toSeconds() + "s",
				"--seriatim.photographs.leftovers-every=500ms"));
		properties.addAll(List.of(more));
		return properties.toArray(String[]::new);
	}

	@AfterAll
	void end() {
		if (this.load != null) {
			this.load.close();
		}
		if (this.service != null) {
			this.service.close();
		}
		this.mail.stop();
	}

	@Test
	@Order(1)
	void losesNothingThatWasAcknowledgedWhenTheServiceIsKilled() {
		var back = new ArrayList<Duration>();
		for (int kill = 1; kill <= KILLS; kill++) {
			writeUntil(this.service::kill);
			back.add(this.service.start());
			assertThat(Patience.until(this.soundness::faults)).as("after kill %d of seed %d", kill, SEED).isEmpty();
			if (kill % KILLS_BETWEEN_VERIFICATIONS == 0) {
				verifyLog();
			}
			report("fault-service", "The service killed (kill -9) while six people write", KILLS, back);
		}
	}

	@Test
	@Order(2)
	void comesBackByItselfWhenItsDatabaseIsKilled() {
		var back = new ArrayList<Duration>();
		for (int kill = 1; kill <= DATABASE_KILLS; kill++) {
			var begun = new long[1];
			writeUntil(() -> {
				begun[0] = System.nanoTime();
				killPostgres();
				this.service.awaitWell();
			});
			back.add(Duration.ofNanos(System.nanoTime() - begun[0]));
			assertThat(Patience.until(this.soundness::faults)).as("after kill %d of seed %d", kill, SEED).isEmpty();
			report("fault-database", "PostgreSQL (its first process) killed (kill -9) while six people write",
					DATABASE_KILLS, back);
		}
	}

	@Test
	@Order(3)
	void keepsTheAuditLogSoundAndRefusedNothingThatWasRight() {
		verifyLog();
		assertThat(this.ledger.refusals()).isEmpty();
		assertThat(this.ledger.count(Known.ACKNOWLEDGED)).isPositive();
	}

	private void verifyLog() {
		assertThat(this.service.command("verify-log")).startsWith("exit 0").contains("as it was written");
	}

	/** Lets everybody write, and at a moment that is left to chance does the rest. */
	private void writeUntil(Runnable fault) {
		var before = this.ledger.acknowledged();
		this.load.runUntil(() -> this.ledger.goesOnSince(before), Duration.ofMillis(this.random.nextInt(LONGEST)),
				fault);
	}

	/** Kills the server, and waits until there is another one. */
	private void killPostgres() {
		var killed = postgres().orElseThrow();
		killed.destroyForcibly();
		killed.onExit().join();
		var latest = System.nanoTime() + Duration.ofMinutes(1).toNanos();
		while (postgres().filter((server) -> !server.equals(killed)).isEmpty() && System.nanoTime() < latest) {
			WritingLoad.pass(Duration.ofMillis(20));
		}
	}

	private Optional<ProcessHandle> postgres() {
		try {
			var pid = Files.readAllLines(this.service.data().resolve("postgresql/postmaster.pid")).get(0);
			return ProcessHandle.of(Long.parseLong(pid)).filter(ProcessHandle::isAlive);
		}
		catch (IOException | IndexOutOfBoundsException ex) {
			// not there, or just being written
			return Optional.empty();
		}
	}

	/**
	 * Written after each kill, so that a run that is broken off has said what it found.
	 */
	private void report(String name, String title, int kills, List<Duration> back) {
		var report = new ProofReport(name, title).row("Kills", back.size() + " of " + kills)
			.row("Seed", SEED)
			.row("Until it answers again", ProofReport.spread(back))
			.row("Acknowledged so far, each on record once", this.ledger.inWords())
			.row("Without an answer, on record once or not at all", this.ledger.count(Known.UNANSWERED))
			.row("Answers that did not come", this.load.lost())
			.row("Mail received, none twice", this.mail.getReceivedMessages().length)
			.row("Lost or half written", 0);
		if (back.size() < kills) {
			report.keep();
		}
		else {
			report.write();
		}
	}

}
