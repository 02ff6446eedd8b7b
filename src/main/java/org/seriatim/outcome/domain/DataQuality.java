package org.seriatim.outcome.domain;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.FaceMap;
import org.seriatim.assessment.Region;
import org.seriatim.finding.ClinicLumps;
import org.seriatim.treatment.VolumeBalance;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * What in the records contradicts itself or is missing, so that figures leave it out,
 * each with the entry to mend, and its share quarter by quarter.
 */
@Service
@Transactional(readOnly = true)
public class DataQuality {

	private final FigureStatements database;

	private final ClinicLumps lumps;

	private final Clock clock;

	DataQuality(FigureStatements database, ClinicLumps lumps, Clock clock) {
		this.database = database;
		this.lumps = lumps;
		this.clock = clock;
	}

	/** What may be wrong. */
	public enum Kind {

		/** Dates of a lump that contradict each other. */
		CONTRADICTION,
		/** The mark of a scar lies outside of its region. */
		MARK_OUTSIDE,
		/** A pitted scar was assessed without a depth. */
		MISSING_DEPTH,
		/** What was prepared does not add up, and nobody says why. */
		VOLUME,
		/** A contact is overdue. */
		CONTACT

	}

	/**
	 * Something to mend.
	 *
	 * @param address of the entry
	 * @param day that it is about
	 */
	public record Item(Kind kind, String recordNumber, LocalDate day, String address) {
	}

	/**
	 * One kind in one quarter.
	 *
	 * @param quarter its first day
	 * @param entries that could be wrong
	 * @param wrong of these, as they stand today
	 */
	public record Quarter(Kind kind, LocalDate quarter, int entries, int wrong) {

		public double share() {
			return (double) this.wrong / this.entries;
		}

	}

	/**
	 * @param items the latest first
	 */
	public record Answer(List<Item> items, List<Quarter> quarters) {

		/** How many items there are of a kind. */
		public int count(Kind kind) {
			return (int) this.items.stream().filter((item) -> item.kind() == kind).count();
		}

	}

	public Answer answer(OutcomeFilter filter) {
		var today = LocalDate.now(this.clock);
		var values = AskedSessions.values(filter, today);
		var items = new ArrayList<Item>();
		var quarters = new Quarters();
		lumps(today, values, items, quarters);
		marks(values, items, quarters);
		depths(values, items, quarters);
		volumes(values, items, quarters);
		contacts(values, items, quarters);
		items.sort(Comparator.comparing(Item::day).reversed().thenComparing(Item::recordNumber));
		return new Answer(List.copyOf(items), quarters.all());
	}

	/** Entries and those that are wrong, by kind and quarter. */
	private static final class Quarters {

		private final Map<Kind, TreeMap<LocalDate, int[]>> counts = new TreeMap<>();

		void count(Kind kind, LocalDate day, boolean wrong) {
			count(kind, day, 1, wrong ? 1 : 0);
		}

		void count(Kind kind, LocalDate day, int entries, int wrong) {
			var quarter = day.withDayOfMonth(1).withMonth(3 * ((day.getMonthValue() - 1) / 3) + 1);
			var counted = this.counts.computeIfAbsent(kind, (key) -> new TreeMap<>())
				.computeIfAbsent(quarter, (key) -> new int[2]);
			counted[0] += entries;
			counted[1] += wrong;
		}

		List<Quarter> all() {
			var all = new ArrayList<Quarter>();
			this.counts.forEach((kind, ofKind) -> ofKind
				.forEach((quarter, counted) -> all.add(new Quarter(kind, quarter, counted[0], counted[1]))));
			return List.copyOf(all);
		}

	}

	private void lumps(LocalDate today, Map<String, @Nullable Object> values, List<Item> items, Quarters quarters) {
		record Asked(String recordNumber) {
		}
		var sessions = new TreeMap<UUID, Asked>();
		this.database
			.sql("""
					with %s
					select asked.id, record_number from asked join patient on patient.id = asked.patient_id"""
				.formatted(AskedSessions.TABLE))
			.params(values)
			.query((row) -> {
				sessions.put(row.getObject("id", UUID.class), new Asked(row.getString("record_number")));
			});
		for (var lump : this.lumps.asOf(today)) {
			var session = lump.duration().lump().session();
			var asked = (session != null) ? sessions.get(session.value()) : null;
			if (asked != null) {
				boolean wrong = !lump.duration().questions().isEmpty();
				quarters.count(Kind.CONTRADICTION, lump.treatedOn(), wrong);
				if (wrong) {
					items.add(new Item(Kind.CONTRADICTION, asked.recordNumber(),
							lump.duration().questions().get(0).date(), "/findings/" + lump.duration().lump().id()));
				}
			}
		}
	}

	private void marks(Map<String, @Nullable Object> values, List<Item> items, Quarters quarters) {
		this.database.sql("""
				select scar.id, record_number, region::text as region, map_x, map_y, first_recorded_on
				from scar join patient on patient.id = scar.patient_id
				where map_x is not null and first_recorded_on between :from and :to and first_recorded_on <= :today
					and (cast(:region as text) is null or scar.region = cast(:region as text))
					and (cast(:scarType as text) is null or scar.type = cast(:scarType as text))""")
			.params(values)
			.query((row) -> {
				var day = row.getObject("first_recorded_on", LocalDate.class);
				boolean wrong = !FaceMap.contains(Region.valueOf(row.getString("region").toUpperCase(Locale.ROOT)),
						row.getDouble("map_x"), row.getDouble("map_y"));
				quarters.count(Kind.MARK_OUTSIDE, day, wrong);
				if (wrong) {
					items.add(new Item(Kind.MARK_OUTSIDE, row.getString("record_number"), day,
							"/scars/" + row.getString("id") + "/edit"));
				}
			});
	}

	private void depths(Map<String, @Nullable Object> values, List<Item> items, Quarters quarters) {
		collect(Kind.MISSING_DEPTH,
				"""
						visit as (
							select a.patient_id, assessed_on, assessor_id, bool_or(depth_mm is null) as wrong
							from scar_assessment a
							join scar on scar.id = a.scar_id
							where scar.type in ('ice_pick', 'boxcar', 'rolling', 'linear', 'fold')
								and assessed_on between :from and :to and assessed_on <= :today
								and (cast(:region as text) is null or scar.region = cast(:region as text))
								and (cast(:scarType as text) is null or scar.type = cast(:scarType as text))
							group by a.patient_id, assessed_on, assessor_id),
						entry as materialized (
							select case when wrong then record_number end as record_number, assessed_on as day,
								assessed_on as item_day, wrong, case when wrong then '/patients/' || patient_id || '/assessments/'
									|| assessed_on || '/' || assessor_id || '/edit' end as address
							from visit join patient on patient.id = visit.patient_id)""",
				values, items, quarters);
	}

	private void volumes(Map<String, @Nullable Object> values, List<Item> items, Quarters quarters) {
		collect(Kind.VOLUME, """
				%s,
				injected as (
					select preparation_id, sum(volume_ml) as ml from injection group by preparation_id),
				entry as materialized (
					select record_number, treated_on as day, treated_on as item_day,
						'/sessions/' || asked.id || '/edit' as address,
						balance_reason is null
							and abs(stock_drawn_ml + coalesce(added_diluent_ml, 0) + coalesce(lidocaine_ml, 0)
								- coalesce(discarded_ml, 0) - coalesce(injected.ml, 0)) > :tolerance as wrong
					from preparation
					join asked on asked.id = preparation.session_id
					join patient on patient.id = asked.patient_id
					left join injected on injected.preparation_id = preparation.id
					where stock_drawn_ml is not null)""".formatted(AskedSessions.TABLE), values, items, quarters);
	}

	/** A session without an advice of its own any more has no contact that is due. */
	private void contacts(Map<String, @Nullable Object> values, List<Item> items, Quarters quarters) {
		collect(Kind.CONTACT, """
				%s,
				entry as materialized (
					select record_number, treated_on as day, next_contact_day as item_day,
						'/sessions/' || asked.id || '/contacts/new' as address,
						coalesce(next_contact_day < :today, false) as wrong
					from asked
					join patient on patient.id = asked.patient_id
					left join advice on advice.session_id = asked.id and replaced_at is null)"""
			.formatted(AskedSessions.TABLE), values, items, quarters);
	}

	/**
	 * Counts the entries quarter by quarter where they lie, and brings only the wrong
	 * ones: a large clinic has many entries and few of these.
	 * @param tables ending with the table {@code entry}
	 */
	private void collect(Kind kind, String tables, Map<String, @Nullable Object> values, List<Item> items,
			Quarters quarters) {
		this.database.sql("""
				with %s
				select cast(date_trunc('quarter', day) as date) as on_day, count(*) as entries,
					count(*) filter (where wrong) as wrong, null as record_number, null as address
				from entry group by 1
				union all
				select item_day, 0, 0, record_number, address from entry where wrong""".formatted(tables))
			.params(values)
			.param("tolerance", VolumeBalance.TOLERANCE_ML)
			.query((row) -> {
				var day = row.getObject("on_day", LocalDate.class);
				var address = row.getString("address");
				if (address != null) {
					items.add(new Item(kind, row.getString("record_number"), day, address));
				}
				else {
					quarters.count(kind, day, row.getInt("entries"), row.getInt("wrong"));
				}
			});
	}

}
