package org.seriatim.outcome.domain;

/**
 * The stages that a filter lets through, as a part of statements: the table
 * {@code stages}. Stage k counts where its session k lies between the days and every
 * session of the series up to it was by the practitioner, with the product, the lot and
 * the combination: only what they all share can have led there. Its days are those of
 * {@link org.seriatim.assessment.SeriesStages}.
 */
final class AskedStages {

	/** To stand after {@code with}; needs the values of {@link AskedSessions}. */
	static final String TABLE = """
			counted as (
				select session.id, session.series_id, session.patient_id, session.treated_on,
					row_number() over so_far as stage,
					lead(session.treated_on) over so_far as next_on,
					first_value(session.treated_on) over so_far as first_on,
					bool_and(%s) over so_far as same_treatment
				from session
				where session.treated_on <= :today
				window so_far as (partition by session.series_id order by session.number)),
			following as (
				select series.id as series_id,
					lead(first_on) over (partition by series.patient_id order by series.number) as next_series_on
				from series
				join (select series_id, min(treated_on) as first_on from session group by series_id) began
					on began.series_id = series.id),
			stages as (
				select counted.id as session_id, counted.series_id, counted.patient_id, counted.stage,
					counted.treated_on, counted.first_on,
					least(coalesce(counted.next_on, following.next_series_on, :today), :today) as ends_on
				from counted
				join following on following.series_id = counted.series_id
				join patient on patient.id = counted.patient_id
				where counted.same_treatment and counted.treated_on between :from and :to
					and (cast(:phototype as int) is null or patient.phototype = cast(:phototype as int)))
			""".formatted(AskedSessions.SAME_TREATMENT);

	/**
	 * The same as the table {@code begun}, with whether a stage is the first of its
	 * series that counts: with it go the days up to the first session, the baseline.
	 */
	static final String BEGUN = TABLE + """
			,
			begun as (select *, row_number() over (partition by series_id order by stage) = 1 as begins from stages)""";

	private AskedStages() {
	}

	/**
	 * For the rest of the transaction. The planner takes a table of a with clause for a
	 * few rows, joins them row by row, and the time grows with their square; joined as
	 * whole tables it grows with their number.
	 */
	static void joinWholeTables(FigureStatements database) {
		database.sql("select set_config('enable_nestloop', 'off', true)").query(String.class).single();
	}

}
