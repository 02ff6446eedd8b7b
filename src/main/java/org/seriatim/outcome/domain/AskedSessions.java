package org.seriatim.outcome.domain;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.Map;

import org.jspecify.annotations.Nullable;

/**
 * The sessions that a filter lets through, as a part of statements: the table
 * {@code asked}. A place and a scar type let a session through where something was
 * injected there.
 */
final class AskedSessions {

	/**
	 * Conditions on a row of {@code session} and of {@code patient}, without the days.
	 */
	static final String SAME_TREATMENT = """
			(cast(:practitioner as uuid) is null or session.practitioner_id = cast(:practitioner as uuid))
				and (cast(:combination as text) is null or session.combination = cast(:combination as text))
				and (cast(:product as text) is null and cast(:lot as text) is null or exists (
					select from preparation where preparation.session_id = session.id
						and (cast(:product as text) is null or preparation.product = cast(:product as text))
						and (cast(:lot as text) is null or preparation.lot = cast(:lot as text))))
			""";

	private static final String SAME_PLACE = """
			(cast(:region as text) is null and cast(:scarType as text) is null or exists (
				select from injection left join scar on scar.id = injection.scar_id
				where injection.session_id = session.id
					and (cast(:region as text) is null or injection.region = cast(:region as text))
					and (cast(:scarType as text) is null or scar.type = cast(:scarType as text))))
			""";

	/** To stand after {@code with}. */
	static final String TABLE = """
			asked as (
				select session.id, session.patient_id, session.series_id, session.number, session.treated_on,
					session.practitioner_id, patient.phototype
				from session join patient on patient.id = session.patient_id
				where session.treated_on between :from and :to and session.treated_on <= :today
					and (cast(:phototype as int) is null or patient.phototype = cast(:phototype as int))
					and %s and %s)
			""".formatted(SAME_TREATMENT, SAME_PLACE);

	private static final LocalDate EVER = LocalDate.of(1, 1, 1);

	private static final LocalDate NEVER = LocalDate.of(9999, 12, 31);

	private AskedSessions() {
	}

	/** The values of all names in {@link #TABLE}. */
	static Map<String, @Nullable Object> values(OutcomeFilter filter, LocalDate today) {
		var values = new HashMap<String, @Nullable Object>();
		values.put("today", today);
		values.put("from", (filter.from() != null) ? filter.from() : EVER);
		values.put("to", (filter.to() != null) ? filter.to() : NEVER);
		values.put("practitioner", (filter.practitioner() != null) ? filter.practitioner().toString() : null);
		values.put("product", filter.product());
		values.put("lot", filter.lot());
		values.put("region", (filter.region() != null) ? filter.region().word() : null);
		values.put("phototype", filter.phototype());
		values.put("scarType", (filter.scarType() != null) ? filter.scarType().word() : null);
		values.put("combination", (filter.combination() != null) ? filter.combination().word() : null);
		return values;
	}

}
