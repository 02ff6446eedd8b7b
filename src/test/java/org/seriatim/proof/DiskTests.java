package org.seriatim.proof;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;
import org.seriatim.proof.Ledger.Known;

import static org.assertj.core.api.Assertions.assertThat;

/**
 * A service whose disk is full, or as slow as a failing one. Both need a system that lets
 * this account mount a file system in memory and slow down a group of processes; else
 * they are skipped and say so.
 */
@EnabledIfSystemProperty(named = "fault.kills", matches = "100", disabledReason = "takes minutes: profile proof")
class DiskTests {

	private static final String SIZE = "700m";

	private static final int PATIENTS = 300;

	private static final int ROUNDS = 3;

	/** Of version 1: it counts the writes that a database waits for. */
	private static final Path GROUPS = Path.of("/sys/fs/cgroup/blkio");

	/** Writes in a second: a hundredth of what the oldest disk that turns can do. */
	private static final int WRITES = 20;

	private final Ledger ledger = new Ledger();

	private final GreenMail mail = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));

	@TempDir
	private Path folder;

	private KillableService service;

	private Soundness soundness;

	private WritingLoad load;

	@BeforeEach
	void startMail() {
		this.mail.start();
	}

	private void start(Path data) throws IOException {
		this.service = new KillableService(data, 512, FaultTests.properties(this.mail, Duration.ofSeconds(60)));
		this.service.start();
		var records = Records.embeddedIn(data);
		var clinic = Clinic.in(records, this.service::address, this.folder, PATIENTS + 4 * (PATIENTS / 10),
				List.of("p.one"));
		this.soundness = new Soundness(records, this.ledger, data, this.mail);
		this.load = new WritingLoad(new Writers(clinic, this.ledger, this.folder).at("p.one", this.service::address,
				FaultTests.SEED, PATIENTS));
	}

	@AfterEach
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
	void aFullDiskLosesNothingAndItGoesOnByItselfWhenThereIsRoom() throws IOException {
		var data = Files.createDirectories(this.folder.resolve("disk"));
		Assumptions.assumeTrue(run("mount", "-t", "tmpfs", "-o", "size=" + SIZE, "tmpfs", data.toString()),
				"no disk in memory can be mounted here");
		try {
			start(data);
			var back = new ArrayList<Duration>();
			for (int round = 0; round < ROUNDS; round++) {
				var ballast = data.resolve("ballast");
				var begun = new long[1];
				this.load.runFor(Duration.ofSeconds(2), () -> {
					run("dd", "if=/dev/zero", "of=" + ballast, "bs=64k");
					WritingLoad.pass(Duration.ofSeconds(15));
					run("rm", ballast.toString());
					begun[0] = System.nanoTime();
					this.service.awaitWell();
					back.add(Duration.ofNanos(System.nanoTime() - begun[0]));
					WritingLoad.pass(Duration.ofSeconds(3));
				});
				assertThat(Patience.until(this.soundness::faults)).as("round %d", round).isEmpty();
			}
			report("fault-full-disk", "A full disk (%s) for 15 s while six people write".formatted(SIZE), back);
			this.load.close();
			this.load = null;
			this.service.close();
		}
		finally {
			run("umount", data.toString());
		}
	}

	@Test
	void aSlowDiskIsWaitedFor() throws IOException {
		var group = GROUPS.resolve("seriatim-proof-" + ProcessHandle.current().pid());
		var device = device();
		Assumptions.assumeTrue(device != null && Files.isWritable(GROUPS) && run("mkdir", group.toString()),
				"no group of processes can be slowed down here");
		try {
			start(this.folder.resolve("data"));
			this.load.runFor(Duration.ofSeconds(10), () -> {
			});
			var before = this.ledger.count(Known.ACKNOWLEDGED);
			Files.writeString(group.resolve("blkio.throttle.write_iops_device"), device + " " + WRITES);
			moveInto(group);
			this.load.runFor(Duration.ofSeconds(60), () -> moveInto(group));
			var slow = this.ledger.count(Known.ACKNOWLEDGED) - before;
			// a hundred times slower would not be slow, but another kind of disk
			assertThat(slow).isPositive();
			Files.writeString(group.resolve("blkio.throttle.write_iops_device"), device + " 0");
			this.service.awaitWell();
			assertThat(Patience.until(this.soundness::faults)).isEmpty();
			report("fault-slow-disk",
					"A disk that takes %d writes in a second, for 60 s while six people write: %d acknowledged, in 10 s before it %d"
						.formatted(WRITES, slow, before),
					List.of());
			this.load.close();
			this.load = null;
			this.service.close();
		}
		finally {
			run("rmdir", group.toString());
		}
	}

	/** The device below the folder, by its numbers, or none. */
	private String device() throws IOException {
		var number = (long) Files.getAttribute(this.folder, "unix:dev");
		var major = number >> 8 & 0xfff;
		return (major == 0) ? null : major + ":" + (number & 0xff);
	}

	/** The service, its server, and whatever these have started. */
	private void moveInto(Path group) {
		var postgres = this.service.data().resolve("postgresql");
		try {
			var server = Long.parseLong(Files.readAllLines(postgres.resolve("postmaster.pid")).get(0));
			for (var first : List.of(server, this.service.pid())) {
				var process = ProcessHandle.of(first).orElseThrow();
				move(group, first);
				process.descendants().forEach((other) -> move(group, other.pid()));
			}
		}
		catch (IOException ex) {
			throw new IllegalStateException(ex);
		}
	}

	private static void move(Path group, long process) {
		try {
			Files.writeString(group.resolve("cgroup.procs"), Long.toString(process));
		}
		catch (IOException ex) {
			// it has ended meanwhile
		}
	}

	private void report(String name, String title, List<Duration> back) {
		new ProofReport(name, title).row("Seed", FaultTests.SEED)
			.row("Times", Math.max(1, back.size()))
			.row("Until it answers again", ProofReport.spread(back))
			.row("Acknowledged, each on record once", this.ledger.inWords())
			.row("Without an answer, on record once or not at all", this.ledger.count(Known.UNANSWERED))
			.row("Answers that did not come", this.load.lost())
			.row("Refused for a reason", this.ledger.refusals().size())
			.row("Mail received, none twice", this.mail.getReceivedMessages().length)
			.row("Lost or half written", 0)
			.write();
	}

	private static boolean run(String... command) {
		try {
			var process = new ProcessBuilder(command).redirectErrorStream(true).start();
			process.getInputStream().transferTo(java.io.OutputStream.nullOutputStream());
			return process.waitFor(1, TimeUnit.MINUTES) && process.exitValue() == 0;
		}
		catch (IOException ex) {
			return false;
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
			return false;
		}
	}

}
