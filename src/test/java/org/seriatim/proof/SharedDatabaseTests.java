package org.seriatim.proof;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CompletableFuture;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.proof.Ledger.Known;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * Two services on one database that is not theirs and one data folder, each with its own
 * people: one of them is killed, and the network to the database is cut for a while.
 */
@EnabledIfSystemProperty(named = "fault.kills", matches = "100", disabledReason = "takes minutes: profile proof")
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class SharedDatabaseTests {

	/** A fifth of the kills of a service that is alone. */
	private static final int KILLS = Math.max(1, Integer.getInteger("fault.kills", 1) / 5);

	private static final Duration CUT = Duration.ofSeconds(Integer.getInteger("fault.cut-seconds", 3));

	private static final int PATIENTS = 80 + 20 * KILLS;

	private final Random random = new Random(FaultTests.SEED);

	private final Ledger ledger = new Ledger();

	private final GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));

	private EmbeddedPostgres server;

	private DatabaseProxy network;

	private KillableService one;

	private KillableService two;

	private WritingLoad atOne;

	private WritingLoad atTwo;

	private Soundness soundness;

	@BeforeAll
	void start(@TempDir Path folder) throws IOException {
		this.mail.start();
		this.server = EmbeddedPostgres.builder()
			.setServerConfig("fsync", "on")
			.setServerConfig("synchronous_commit", "on")
			.setServerConfig("full_page_writes", "on")
			.start();
		((Records) () -> this.server.getPostgresDatabase().getConnection()).execute(
				"create role seriatim login password 'seriatim'",
				"create role seriatim_service login password 'seriatim'",
				"create database seriatim owner seriatim template template0 encoding 'UTF8' locale_provider builtin builtin_locale 'C.UTF-8' locale 'C'");
		this.network = new DatabaseProxy(this.server.getPort());
		var properties = FaultTests.properties(this.mail, CUT.plusSeconds(15),
				"--spring.datasource.url=jdbc:postgresql://127.0.0.1:" + this.network.port() + "/seriatim",
				"--spring.datasource.username=seriatim_service", "--spring.datasource.password=seriatim",
				"--spring.flyway.user=seriatim", "--spring.flyway.password=seriatim");
		var data = folder.resolve("data");
		this.one = new KillableService(data, 512, properties);
		this.two = new KillableService(data, 512, properties);
		this.one.start();
		this.two.start();
		Records records = () -> this.server.getDatabase("seriatim", "seriatim").getConnection();
		var clinic = Clinic.in(records, this.one::address, folder, 2 * (PATIENTS + 4 * (PATIENTS / 10)),
				List.of("p.one", "p.two"));
		var writers = new Writers(clinic, this.ledger, folder);
		this.atOne = new WritingLoad(writers.at("p.one", this.one::address, FaultTests.SEED, PATIENTS));
		this.atTwo = new WritingLoad(writers.at("p.two", this.two::address, FaultTests.SEED + 1, PATIENTS));
		this.soundness = new Soundness(records, this.ledger, data, this.mail);
	}

	@AfterAll
	void end() throws Exception {
		for (var begun : new AutoCloseable[] { this.atOne, this.atTwo, this.one, this.two, this.network,
				this.server }) {
			if (begun != null) {
				begun.close();
			}
		}
		this.mail.stop();
	}

	@Test
	@Order(1)
	void goOnWritingAtOneWhileTheOtherIsKilled() {
		var back = new ArrayList<Duration>();
		for (int kill = 1; kill <= KILLS; kill++) {
			this.atTwo.run();
			var before = this.ledger.acknowledged();
			this.atOne.runUntil(() -> this.ledger.goesOnSince(before),
					Duration.ofMillis(this.random.nextInt(FaultTests.LONGEST)), this.one::kill);
			back.add(this.one.start());
			this.atTwo.rest();
			assertThat(this.atTwo.lost()).as("answers of the service that was not killed").isZero();
			assertThat(Patience.until(this.soundness::faults)).as("after kill %d of seed %d", kill, FaultTests.SEED)
				.isEmpty();
		}
		report("fault-two-services", "Two services on one database, one of them killed (kill -9)").row("Kills", KILLS)
			.row("Until it answers again", ProofReport.spread(back))
			.row("Answers that the other one failed to give", this.atTwo.lost())
			.write();
	}

	@Test
	@Order(2)
	void comeBackByThemselvesWhenTheDatabaseCannotBeReachedForAWhile() throws IOException {
		var back = new ArrayList<Duration>();
		var told = new ArrayList<String>();
		for (var forgetful : new boolean[] { false, true }) {
			var begun = new long[1];
			this.atTwo.run();
			var before = this.ledger.acknowledged();
			this.atOne.runUntil(() -> this.ledger.goesOnSince(before),
					Duration.ofMillis(this.random.nextInt(FaultTests.LONGEST)), () -> {
						this.network.cut();
						var asked = CompletableFuture.supplyAsync(this::ask);
						WritingLoad.pass(CUT);
						begun[0] = System.nanoTime();
						this.network.mend(forgetful);
						told.add(asked.join());
						this.one.awaitWell();
						this.two.awaitWell();
						back.add(Duration.ofNanos(System.nanoTime() - begun[0]));
					});
			this.atTwo.rest();
			assertThat(Patience.until(this.soundness::faults)).as("seed %d", FaultTests.SEED).isEmpty();
		}
		report("fault-network", "The network to the database cut while both services are written to")
			.row("Cut for", CUT.toSeconds() + " s, once with the connections of before, once without")
			.row("A page meanwhile", String.join("; ", told))
			.row("Until both are well again", ProofReport.spread(back))
			.write();
	}

	/** What somebody sees who opens a page meanwhile, and after how long. */
	private String ask() {
		var begun = System.nanoTime();
		try {
			return "status " + new Person("nobody", this.one::address).get("/sign-in").status() + " after "
					+ Duration.ofNanos(System.nanoTime() - begun).toMillis() + " ms";
		}
		catch (IOException ex) {
			return ex.getClass().getSimpleName();
		}
	}

	@Test
	@Order(3)
	void keepTheAuditLogSoundAndRefuseNothingThatWasRight() {
		assertThat(this.one.command("verify-log")).startsWith("exit 0").contains("as it was written");
		assertThat(this.ledger.refusals()).isEmpty();
		assertThat(this.ledger.count(Known.ACKNOWLEDGED)).isPositive();
	}

	private ProofReport report(String name, String title) {
		return new ProofReport(name, title).row("Seed", FaultTests.SEED)
			.row("Acknowledged so far, each on record once", this.ledger.inWords())
			.row("Without an answer, on record once or not at all", this.ledger.count(Known.UNANSWERED))
			.row("Mail received, none twice", this.mail.getReceivedMessages().length)
			.row("Lost or half written", 0);
	}

}
