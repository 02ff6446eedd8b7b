package org.seriatim.finding.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import org.jspecify.annotations.Nullable;
import org.seriatim.assessment.Region;
import org.seriatim.assessment.ScarId;
import org.seriatim.finding.ClinicLump;
import org.seriatim.finding.ClinicLumps;
import org.seriatim.finding.FindingFacts;
import org.seriatim.finding.FindingId;
import org.seriatim.finding.FindingKind;
import org.seriatim.finding.LumpDuration;
import org.seriatim.finding.LumpLayer;
import org.seriatim.finding.ObservationFacts;
import org.seriatim.patient.PatientId;
import org.seriatim.treatment.Combination;
import org.seriatim.treatment.InjectionFacts;
import org.seriatim.treatment.Layer;
import org.seriatim.treatment.SessionId;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Reads the lumps of the clinic with three statements, however many there are. */
@Component
@Transactional(readOnly = true)
class RecordedLumps implements ClinicLumps {

	private final JdbcClient database;

	RecordedLumps(JdbcClient database) {
		this.database = database;
	}

	/** An injection as far as a lump that arose there looks back at it. */
	private record Placed(InjectionFacts injection, @Nullable String product) {
	}

	@Override
	public List<ClinicLump> asOf(LocalDate day) {
		var observations = observations(day);
		var placed = placed(day);
		var ofSessions = new SessionProducts();
		return this.database.sql("""
				select finding.id, finding.patient_id, finding.session_id, finding.region, finding.scar_id,
					finding.first_noted_on, finding.gone_on, session.treated_on, session.combination,
					staff.name as practitioner
				from finding
				join session on session.id = finding.session_id
				join staff on staff.id = session.practitioner_id
				where finding.kind = 'lump' and finding.first_noted_on <= :day
				order by finding.code""").param("day", day).query((row, index) -> {
			var id = row.getObject("id", UUID.class);
			var session = row.getObject("session_id", UUID.class);
			var treatedOn = row.getObject("treated_on", LocalDate.class);
			var scar = row.getObject("scar_id", UUID.class);
			var lump = new FindingFacts(new FindingId(id), new SessionId(session), FindingKind.LUMP,
					word(Region::valueOf, row.getString("region")), (scar != null) ? new ScarId(scar) : null, null,
					row.getObject("first_noted_on", LocalDate.class), null, false,
					row.getObject("gone_on", LocalDate.class), null, observations.getOrDefault(id, List.of()))
				.asOf(day);
			var ofItsSession = placed.getOrDefault(session, List.of());
			return new ClinicLump(new PatientId(row.getObject("patient_id", UUID.class)),
					LumpDuration.of(lump, treatedOn), treatedOn, row.getString("practitioner"), lump.region(),
					LumpLayer.of(lump, injections(ofItsSession)).orElse(null),
					word(Combination::valueOf, row.getString("combination")), product(lump, ofItsSession, ofSessions));
		}).list();
	}

	@Override
	public int withoutSession(LocalDate day) {
		return this.database.sql("""
				select count(*) from finding
				where kind = 'lump' and session_id is null and first_noted_on <= :day""")
			.param("day", day)
			.query(Integer.class)
			.single();
	}

	private Map<UUID, List<ObservationFacts>> observations(LocalDate day) {
		var observations = new HashMap<UUID, List<ObservationFacts>>();
		this.database.sql("""
				select finding_id, observed_on, present
				from finding_observation
				join finding on finding.id = finding_id
				where kind = 'lump' and observed_on <= :day
				order by observed_on, finding_observation.id""").param("day", day).query((row) -> {
			observations.computeIfAbsent(row.getObject("finding_id", UUID.class), (id) -> new ArrayList<>())
				.add(new ObservationFacts(row.getObject("observed_on", LocalDate.class), row.getBoolean("present")));
		});
		return observations;
	}

	/** The injections that lumps can belong to, by session. */
	private Map<UUID, List<Placed>> placed(LocalDate day) {
		var placed = new HashMap<UUID, List<Placed>>();
		this.database.sql("""
				select injection.session_id, injection.region, injection.scar_id, injection.layer, preparation.product
				from (
					select distinct session_id, region, scar_id from finding
					where kind = 'lump' and first_noted_on <= :day) lump
				join injection on injection.session_id = lump.session_id
					and (injection.scar_id = lump.scar_id
						or lump.scar_id is null and injection.scar_id is null and injection.region = lump.region)
				left join preparation on preparation.id = injection.preparation_id
				order by injection.session_id, injection.number""").param("day", day).query((row) -> {
			var scar = row.getObject("scar_id", UUID.class);
			placed.computeIfAbsent(row.getObject("session_id", UUID.class), (id) -> new ArrayList<>())
				.add(new Placed(
						new InjectionFacts(Objects.requireNonNull(word(Region::valueOf, row.getString("region"))),
								(scar != null) ? new ScarId(scar) : null, word(Layer::valueOf, row.getString("layer")),
								null, null, null),
						row.getString("product")));
		});
		return placed;
	}

	/** Of all injections of a session; read only where a lump lies at none of them. */
	private final class SessionProducts {

		private @Nullable Map<UUID, Set<String>> known;

		Set<String> of(@Nullable SessionId session) {
			if (session == null) {
				return Set.of();
			}
			if (this.known == null) {
				this.known = read();
			}
			return this.known.getOrDefault(session.value(), Set.of());
		}

		private Map<UUID, Set<String>> read() {
			var products = new HashMap<UUID, Set<String>>();
			RecordedLumps.this.database.sql("""
					select distinct injection.session_id, preparation.product
					from injection join preparation on preparation.id = injection.preparation_id
					where injection.session_id in (select session_id from finding where kind = 'lump')""")
				.query((row) -> {
					products.computeIfAbsent(row.getObject("session_id", UUID.class), (id) -> new HashSet<>())
						.add(row.getString("product"));
				});
			return products;
		}

	}

	private static @Nullable String product(FindingFacts lump, List<Placed> ofItsSession, SessionProducts ofSessions) {
		var there = LumpLayer.injectionsOf(lump, injections(ofItsSession));
		var products = products(ofItsSession.stream().filter((placed) -> there.contains(placed.injection())));
		if (products.isEmpty()) {
			products = ofSessions.of(lump.session());
		}
		return (products.size() == 1) ? products.iterator().next() : null;
	}

	private static Set<String> products(Stream<Placed> placed) {
		return placed.map(Placed::product).filter(Objects::nonNull).collect(Collectors.toSet());
	}

	private static List<InjectionFacts> injections(List<Placed> placed) {
		return placed.stream().map(Placed::injection).toList();
	}

	private static <E> @Nullable E word(Function<String, E> valueOf, @Nullable String word) {
		return (word != null) ? valueOf.apply(word.toUpperCase(Locale.ROOT)) : null;
	}

}
