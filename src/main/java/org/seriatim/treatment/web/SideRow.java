package org.seriatim.treatment.web;

import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.RowKey;
import org.seriatim.treatment.SideCheck;
import org.seriatim.treatment.domain.SessionReview.Side;

/**
 * The check of one side of the face in the session's form.
 *
 * @param side typed by nobody
 */
record SideRow(@RowKey @Nullable Side side, @Nullable Boolean even, @Nullable Boolean lumpFelt,
		@Nullable Boolean compressed, @Nullable Boolean massaged, @Nullable Boolean ointment) {

	static SideRow from(Side side, SideCheck check) {
		return new SideRow(side, check.even(), check.lumpFelt(), check.compressed(), check.massaged(),
				check.ointment());
	}

	/** A row for each side, in their order; what the form does not send is unknown. */
	static List<SideRow> complete(@Nullable List<@Nullable SideRow> sent) {
		return Arrays.stream(Side.values())
			.map((side) -> Stream.ofNullable(sent)
				.flatMap(List::stream)
				.filter(Objects::nonNull)
				.filter((row) -> row.side() == side)
				.findFirst()
				.orElseGet(() -> from(side, SideCheck.UNKNOWN)))
			.toList();
	}

	static SideCheck of(Side side, List<SideRow> rows) {
		return rows.stream()
			.filter((row) -> row.side() == side)
			.map((row) -> new SideCheck(row.even(), row.lumpFelt(), row.compressed(), row.massaged(), row.ointment()))
			.findFirst()
			.orElse(SideCheck.UNKNOWN);
	}

}
