package org.seriatim.appointment.domain;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;

/** A span of time; its end is not part of it, so that two may stand back to back. */
public record Span(Instant start, Instant end) {

	public Span {
		if (!end.isAfter(start)) {
			throw new IllegalArgumentException("a span ends after it starts");
		}
	}

	public static Span of(Instant start, Duration length) {
		return new Span(start, start.plus(length));
	}

	public boolean overlaps(Span other) {
		return this.start.isBefore(other.end) && other.start.isBefore(this.end);
	}

	boolean holds(Span other) {
		return !other.start.isBefore(this.start) && !other.end.isAfter(this.end);
	}

	/** What is left of this span, in order, where the others are taken out. */
	List<Span> without(Collection<Span> others) {
		var left = new ArrayList<Span>();
		var from = this.start;
		for (var other : others.stream().filter(this::overlaps).sorted(Comparator.comparing(Span::start)).toList()) {
			if (other.start.isAfter(from)) {
				left.add(new Span(from, other.start));
			}
			from = other.end.isAfter(from) ? other.end : from;
		}
		if (this.end.isAfter(from)) {
			left.add(new Span(from, this.end));
		}
		return left;
	}

	/** The same time once, where spans touch or overlap. */
	static List<Span> joined(Collection<Span> spans) {
		var joined = new ArrayList<Span>();
		for (var span : spans.stream().sorted(Comparator.comparing(Span::start)).toList()) {
			var last = joined.isEmpty() ? null : joined.get(joined.size() - 1);
			if (last == null || span.start.isAfter(last.end)) {
				joined.add(span);
			}
			else if (span.end.isAfter(last.end)) {
				joined.set(joined.size() - 1, new Span(last.start, span.end));
			}
		}
		return joined;
	}

}
