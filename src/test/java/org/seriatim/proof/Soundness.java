package org.seriatim.proof;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

import com.icegreen.greenmail.util.GreenMail;
import jakarta.mail.MessagingException;
import org.seriatim.proof.Ledger.Kind;
import org.seriatim.proof.Ledger.Known;

/**
 * Compares the records with the ledger, and with themselves: every acknowledged write is
 * there once, what got no answer is there once as a whole or not at all, nothing is half
 * written, no mail went twice.
 */
final class Soundness {

	private static final List<String> WRITTEN_WITH_AN_AUDIT_ENTRY = List.of("session", "contact", "appointment",
			"photograph", "contact_link", "outbox_message", "session_draft");

	private final Records records;

	private final Ledger ledger;

	private final Path data;

	private final GreenMail mail;

	Soundness(Records records, Ledger ledger, Path data, GreenMail mail) {
		this.records = records;
		this.ledger = ledger;
		this.data = data;
		this.mail = mail;
	}

	/** What is wrong, in words; nothing if all is well. */
	List<String> faults() {
		var faults = new ArrayList<String>();
		compare(faults, Kind.SESSION,
				"select instructions, count(*) from session where instructions is not null group by 1");
		compare(faults, Kind.CONTACT, "select note, count(*) from contact where note like 'call %' group by 1");
		compare(faults, Kind.BOOKING, """
				select s.name || ' ' || to_char(a.starts_at at time zone '%s', 'YYYY-MM-DD HH24:MI'), count(*)
				from appointment a join staff s on s.id = a.practitioner_id group by 1"""
			.formatted(java.time.ZoneId.systemDefault()));
		compare(faults, Kind.PHOTOGRAPH,
				"select encode(source_sha256, 'hex'), count(*) from photograph where not set_aside group by 1");
		compare(faults, Kind.LINK, "select patient_id, count(*) from contact_link group by 1");
		compare(faults, Kind.LINK, "select patient_id, count(*) from outbox_message group by 1");
		compare(faults, Kind.IMPORT, """
				select regexp_replace(record_number, '-\\d{5}$', ''), count(*) / 3 from patient
				where record_number like 'I%' group by 1""");
		drafts(faults);
		halves(faults);
		pictures(faults);
		mail(faults);
		passing(faults);
		return faults;
	}

	private void compare(List<String> faults, Kind kind, String query) {
		var found = this.records.pairs(query);
		this.ledger.of(kind).forEach((mark, known) -> {
			var times = found.getOrDefault(mark, "0");
			if (known == Known.ACKNOWLEDGED && !times.equals("1")) {
				faults.add(kind + " " + mark + " was acknowledged and is there " + times + " times");
			}
			if (known == Known.UNANSWERED && !times.equals("0") && !times.equals("1")) {
				faults.add(kind + " " + mark + " had no answer and is there " + times + " times");
			}
			if (known == Known.REFUSED && !times.equals("0")) {
				faults.add(kind + " " + mark + " was refused and is there");
			}
		});
		var sent = this.ledger.of(kind).keySet();
		found.keySet()
			.stream()
			.filter((mark) -> !sent.contains(mark))
			.forEach((mark) -> faults.add(kind + " " + mark + " is there and was not sent"));
	}

	/**
	 * A page that saves itself has one draft, which says the last that was acknowledged
	 * or something later.
	 */
	private void drafts(List<String> faults) {
		var found = new HashMap<String, List<List<String>>>();
		this.records
			.rows("""
					select saved_by_page, content ->> 'instructions', status from session_draft where saved_by_page is not null""")
			.forEach((row) -> found.computeIfAbsent(row.get(0), (page) -> new ArrayList<>()).add(row));
		var pages = new TreeMap<String, Integer>();
		this.ledger.of(Kind.DRAFT).forEach((mark, known) -> {
			var part = mark.split(" ");
			pages.merge(part[0], (known == Known.ACKNOWLEDGED) ? Integer.parseInt(part[1]) : 0, Math::max);
		});
		pages.forEach((page, acknowledged) -> {
			var drafts = found.getOrDefault(page, List.of());
			if (drafts.size() > 1 || acknowledged > 0 && drafts.isEmpty()) {
				faults.add("DRAFT of page " + page + " is there " + drafts.size() + " times");
			}
			for (var draft : drafts) {
				if (Integer.parseInt(draft.get(1).split(" ")[1]) < acknowledged) {
					faults.add("DRAFT of page " + page + " lost save " + acknowledged);
				}
			}
		});
	}

	private void halves(List<String> faults) {
		none(faults, "sessions without all of their parts", """
				select s.id from session s
				where (select count(*) from preparation p where p.session_id = s.id) <> 1
					or (select count(*) from injection i where i.session_id = s.id) <> 2""");
		none(faults, "sessions that do not add up", """
				select p.id from preparation p
				where abs(p.stock_drawn_ml + p.added_diluent_ml + p.lidocaine_ml - p.discarded_ml
					- (select sum(i.volume_ml) from injection i where i.preparation_id = p.id)) > 0.0005""");
		none(faults, "drafts that are recorded without their session, or the other way round", """
				select coalesce(d.id, s.id) from session_draft d full join session s on s.id = d.session_id
				where d.status = 'recorded' and s.id is null or s.instructions is not null and d.id is null""");
		none(faults, "imported patients without all that belongs to them", """
				select p.record_number from patient p
				where (select count(*) from series x where x.patient_id = p.id) <> 1
					or (select count(*) from scar x where x.patient_id = p.id) <> 1
					or (select count(*) from session x where x.patient_id = p.id and x.number = 1) <> 1""");
		none(faults, "bundles of which only some patients are there", """
				select regexp_replace(record_number, '-\\d{5}$', '') from patient where record_number like 'I%'
				group by 1 having count(*) <> 3""");
		none(faults, "series whose current advice is not about their last session",
				"""
						select r.id from series r
						where r.status = 'open' and not exists (select from advice a where a.series_id = r.id and a.replaced_at is null
							and a.session_id = (select s.id from session s where s.series_id = r.id order by s.number desc limit 1))""");
		for (var table : WRITTEN_WITH_AN_AUDIT_ENTRY) {
			none(faults, table + " without its one entry of the audit log, or the other way round", """
					select coalesce(t.id, a.entry_id)
					from (select id from %1$s where not (%2$s)) t
						full join (select entry_id, count(*) as times from audit_entry
							where kind = '%1$s' and action = 'created' and entry_id is not null group by 1) a
							on a.entry_id = t.id
					where t.id is null or a.times is distinct from 1""".formatted(table,
					table.equals("session") ? "instructions is null" : "false"));
		}
		none(faults, "links with more or less than one mail", """
				select l.id from contact_link l
				where (select count(*) from outbox_message m where m.link_id = l.id) <> 1""");
	}

	private void none(List<String> faults, String what, String query) {
		var found = this.records.column(query);
		if (!found.isEmpty()) {
			faults.add(found.size() + " " + what + ", such as " + found.get(0));
		}
	}

	/** Each picture is as its row says; each file has a row. */
	private void pictures(List<String> faults) {
		var rows = this.records.pairs("select id, encode(sha256, 'hex') from photograph");
		rows.forEach((id, digest) -> {
			var whole = picture(id, ".jpg");
			if (!Files.exists(whole) || !Files.exists(picture(id, "-small.jpg"))) {
				faults.add("photograph " + id + " has no file");
			}
			else if (!Writers.sha256(read(whole)).equals(digest)) {
				faults.add("photograph " + id + " is not what its row says");
			}
		});
		this.leftovers(rows).forEach((file) -> faults.add("the file " + file + " belongs to no photograph"));
	}

	private List<String> leftovers(Map<String, String> rows) {
		var folder = this.data.resolve("photographs");
		if (!Files.isDirectory(folder)) {
			return List.of();
		}
		try (var files = Files.walk(folder)) {
			return files.filter(Files::isRegularFile)
				.map((file) -> file.getFileName().toString())
				.filter((name) -> !name.endsWith(".jpg")
						|| !rows.containsKey(name.replaceFirst("(-small)?\\.jpg$", "")))
				.toList();
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	/**
	 * While nobody writes, no upload lies about, whoever was killed while it was read.
	 */
	private void passing(List<String> faults) {
		var folder = this.data.resolve("passing");
		try (var files = Files.walk(folder)) {
			files.filter(Files::isRegularFile)
				.filter((file) -> !file.getFileName().toString().equals("lock"))
				.forEach((file) -> faults.add("the upload " + folder.relativize(file) + " was left behind"));
		}
		catch (IOException | UncheckedIOException ex) {
			// a service that starts or stops takes them away at this moment
			faults.add("the uploads cannot be looked at: " + ex);
		}
	}

	private Path picture(String id, String ending) {
		return this.data.resolve("photographs").resolve(id.substring(id.length() - 2)).resolve(id + ending);
	}

	private static byte[] read(Path file) {
		try {
			return Files.readAllBytes(file);
		}
		catch (IOException ex) {
			throw new UncheckedIOException(ex);
		}
	}

	private void mail(List<String> faults) {
		var received = new HashSet<String>();
		var recipients = new HashSet<String>();
		for (var message : this.mail.getReceivedMessages()) {
			try {
				if (!received.add(message.getMessageID())) {
					faults.add("mail " + message.getMessageID() + " went twice");
				}
				// each patient has one link here, so also one mail
				if (!recipients.add(message.getAllRecipients()[0].toString())) {
					faults.add("a patient got two mails, the second as " + message.getMessageID());
				}
			}
			catch (MessagingException ex) {
				faults.add("a mail cannot be read: " + ex);
			}
		}
		this.records.rows("select message_id, state from outbox_message where message_id is not null")
			.forEach((row) -> {
				var gone = received.remove(row.get(0));
				if (!gone && row.get(1).equals("sent")) {
					faults.add("mail " + row.get(0) + " is said to be sent and never came");
				}
				if (gone && !row.get(1).equals("sent") && !row.get(1).equals("sending")
						&& !row.get(1).equals("failed")) {
					faults.add("mail " + row.get(0) + " came and is " + row.get(1));
				}
			});
		received.forEach((id) -> faults.add("mail " + id + " came and nobody sent it"));
	}

}
