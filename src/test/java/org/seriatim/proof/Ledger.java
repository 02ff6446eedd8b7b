package org.seriatim.proof;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What was sent to the service and what it answered, written down outside of it: the
 * measure of what must be on record afterwards.
 */
final class Ledger {

	/** What is written. */
	enum Kind {

		DRAFT, SESSION, CONTACT, BOOKING, PHOTOGRAPH, LINK, IMPORT

	}

	/** How far a write has come as its writer knows. */
	enum Known {

		/** It was sent, and no answer came: it may be on record or not. */
		UNANSWERED,
		/** The service said that it is on record. */
		ACKNOWLEDGED,
		/** The service said why it is not taken. */
		REFUSED

	}

	private final Map<Kind, Map<String, Known>> writes = new EnumMap<>(Kind.class);

	private final List<String> refusals = new ArrayList<>();

	Ledger() {
		for (var kind : Kind.values()) {
			this.writes.put(kind, new LinkedHashMap<>());
		}
	}

	/** Notes that something is about to be sent. */
	synchronized void sends(Kind kind, String mark) {
		this.writes.get(kind).putIfAbsent(mark, Known.UNANSWERED);
	}

	synchronized void acknowledged(Kind kind, String mark) {
		this.writes.get(kind).put(mark, Known.ACKNOWLEDGED);
	}

	synchronized void refused(Kind kind, String mark, String why) {
		this.writes.get(kind).put(mark, Known.REFUSED);
		this.refusals.add(kind + " " + mark + ": " + why);
	}

	/** The writes of a kind by their marks. */
	synchronized Map<String, Known> of(Kind kind) {
		return new LinkedHashMap<>(this.writes.get(kind));
	}

	synchronized List<String> refusals() {
		return List.copyOf(this.refusals);
	}

	synchronized long count(Known known) {
		return this.writes.values()
			.stream()
			.flatMap((ofKind) -> ofKind.values().stream())
			.filter(known::equals)
			.count();
	}

	/**
	 * Whether something of each kind was acknowledged since; drafts come before sessions.
	 * @param before of each kind, as {@link #acknowledged()} had it
	 */
	boolean goesOnSince(Map<Kind, Long> before) {
		return acknowledged().entrySet()
			.stream()
			.allMatch((now) -> now.getKey() == Kind.LINK || now.getValue() > before.get(now.getKey()));
	}

	synchronized Map<Kind, Long> acknowledged() {
		var counts = new EnumMap<Kind, Long>(Kind.class);
		this.writes.forEach((kind, ofKind) -> counts.put(kind,
				ofKind.values().stream().filter(Known.ACKNOWLEDGED::equals).count()));
		return counts;
	}

	/** How many of each kind were acknowledged. */
	synchronized String inWords() {
		var words = new ArrayList<String>();
		this.writes.forEach((kind, ofKind) -> words.add(
				ofKind.values().stream().filter(Known.ACKNOWLEDGED::equals).count() + " " + kind.name().toLowerCase()));
		return String.join(", ", words);
	}

}
