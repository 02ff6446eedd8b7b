package org.seriatim.access.web;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

import org.seriatim.access.Role;
import org.springframework.http.HttpMethod;
import org.springframework.web.util.pattern.PathPattern;
import org.springframework.web.util.pattern.PathPatternParser;

import static org.seriatim.access.Role.ADMINISTRATOR;
import static org.seriatim.access.Role.ASSISTANT;
import static org.seriatim.access.Role.CLINIC_LEAD;
import static org.seriatim.access.Role.FRONT_DESK;
import static org.seriatim.access.Role.PRACTITIONER;

/**
 * The one table of who may open which address. An address that is not in it is closed to
 * everybody; a test fails for a mapped address that is not in it.
 */
final class Routes {

	private static final Set<Role> ANYONE_SIGNED_IN = EnumSet.allOf(Role.class);

	/** Who cares for the patient and so may read the clinical record. */
	private static final Set<Role> CLINICAL = EnumSet.of(ASSISTANT, PRACTITIONER, CLINIC_LEAD);

	/** Who may make final clinical entries; an assistant writes drafts only. */
	private static final Set<Role> LICENSED = EnumSet.of(PRACTITIONER, CLINIC_LEAD);

	/** Who may close a finding; nothing else ends it. */
	private static final Set<Role> PRACTITIONERS = EnumSet.of(PRACTITIONER);

	/** Who needs identity, contact and the days of the advice. */
	private static final Set<Role> RECEPTION = EnumSet.of(FRONT_DESK, ASSISTANT, PRACTITIONER, CLINIC_LEAD);

	private static final Set<Role> LEAD = EnumSet.of(CLINIC_LEAD);

	private static final Set<Role> ADMINISTRATION = EnumSet.of(ADMINISTRATOR);

	private static final Set<Role> LICENSED_OR_ADMINISTRATION = EnumSet.of(PRACTITIONER, CLINIC_LEAD, ADMINISTRATOR);

	private static final Set<Role> LEAD_OR_ADMINISTRATION = EnumSet.of(CLINIC_LEAD, ADMINISTRATOR);

	private final List<Route> routes = new ArrayList<>();

	/**
	 * One row of the table.
	 *
	 * @param roles who may; empty with {@code open} for everybody, signed in or not
	 */
	record Route(HttpMethod method, String pattern, Set<Role> roles, boolean open) {

		private PathPattern parsed() {
			return PathPatternParser.defaultInstance.parse(this.pattern);
		}

	}

	private Routes() {
		open("/sign-in", "/css/**", "/js/**", "/images/**", "/webjars/**", "/favicon.svg", "/actuator/health");
		open("/set-up");
		openWrite("/sign-in", "/set-up");

		read("/", ANYONE_SIGNED_IN);
		page("/components", ANYONE_SIGNED_IN);
		page("/password", ANYONE_SIGNED_IN);
		page("/tokens", ANYONE_SIGNED_IN);
		write("/tokens/{token}/revoke", ANYONE_SIGNED_IN);
		write("/sign-out", ANYONE_SIGNED_IN);

		read("/patients", RECEPTION);
		page("/patients/search", RECEPTION);
		page("/patients/new", RECEPTION);
		page("/patients/{patient}/edit", RECEPTION);
		page("/patients/{patient}/scars/new", LICENSED);
		page("/scars/{scar}/edit", LICENSED);
		page("/patients/{patient}/assessments/new", LICENSED);
		page("/patients/{patient}/assessments/{day}/{assessor}/edit", LICENSED);
		read("/patients/{patient}/assessments", CLINICAL);
		read("/patients/{patient}/assessments/{day}", CLINICAL);
		page("/patients/{patient}/counts", LICENSED);
		read("/history/{kind}/{entry}", CLINICAL);
		page("/patients/{patient}/counts/{day}/{assessor}/edit", LICENSED);
		read("/patients/{patient}", RECEPTION);

		read("/series/{series}", CLINICAL);
		write("/series/{series}/advice/decision", LICENSED);

		read("/outcomes/lumps", LICENSED);
		read("/outcomes/lumps.csv", LICENSED);
		read("/outcomes/lump-curve.csv", LICENSED);

		read("/follow-up", RECEPTION);
		read("/follow-up/advice.csv", RECEPTION);
		read("/series/{series}/advice", CLINICAL);
		read("/series/{series}/advice/{advice}", CLINICAL);

		page("/patients/{patient}/series/new", LICENSED);
		page("/series/{series}/edit", LICENSED);
		page("/series/{series}/end", LICENSED);
		page("/series/{series}/sessions/new", CLINICAL);
		read("/sessions/{session}", CLINICAL);
		page("/sessions/{session}/edit", LICENSED);
		read("/drafts", CLINICAL);
		page("/drafts/{draft}", CLINICAL);
		write("/drafts/{draft}/discard", LICENSED);

		page("/patients/{patient}/emergency", RECEPTION);
		page("/patients/{patient}/findings/new", LICENSED);
		read("/patients/{patient}/findings/caution", LICENSED);
		read("/findings/{finding}", CLINICAL);
		page("/findings/{finding}/edit", LICENSED);
		page("/findings/{finding}/observations/new", LICENSED);
		page("/observations/{observation}/edit", LICENSED);
		write("/findings/{finding}/acknowledge", PRACTITIONERS);
		page("/findings/{finding}/close", PRACTITIONERS);
		page("/findings/{finding}/reopen", PRACTITIONERS);
		page("/sessions/{session}/contacts/new", RECEPTION);
		page("/contacts/{contact}/edit", RECEPTION);

		read("/setup/protocol", LICENSED_OR_ADMINISTRATION);
		page("/setup/protocol/new", LEAD);
		page("/setup/import", LEAD_OR_ADMINISTRATION);
		read("/setup/import/{job}/problems.csv", LEAD_OR_ADMINISTRATION);
		page("/setup/export", LEAD);
		read("/setup/erasures", LEAD);
		page("/patients/{patient}/erase", LEAD);
		page("/patients/{patient}/hold", LEAD);
		read("/patients/{patient}/report", LEAD);
		write("/patients/{patient}/report.zip", LEAD);
		page("/setup/accounts", ADMINISTRATION);
		write("/setup/accounts/{account}/roles", ADMINISTRATION);
		write("/setup/accounts/{account}/password", ADMINISTRATION);
		write("/setup/accounts/{account}/active", ADMINISTRATION);
	}

	/**
	 * The table, the most specific address first, so that its order of writing does not
	 * matter.
	 */
	static List<Route> all() {
		return new Routes().routes.stream().sorted(Comparator.comparing(Route::parsed)).toList();
	}

	private void open(String... patterns) {
		for (String pattern : patterns) {
			add(HttpMethod.GET, pattern, Set.of(), true);
		}
	}

	private void openWrite(String... patterns) {
		for (String pattern : patterns) {
			add(HttpMethod.POST, pattern, Set.of(), true);
		}
	}

	/** An address that shows something. */
	private void read(String pattern, Set<Role> roles) {
		add(HttpMethod.GET, pattern, roles, false);
	}

	/** An address that changes something. */
	private void write(String pattern, Set<Role> roles) {
		add(HttpMethod.POST, pattern, roles, false);
	}

	/** A page with its form: shown and sent at one address. */
	private void page(String pattern, Set<Role> roles) {
		read(pattern, roles);
		write(pattern, roles);
	}

	private void add(HttpMethod method, String pattern, Set<Role> roles, boolean open) {
		this.routes.add(new Route(method, pattern, Set.copyOf(roles), open));
	}

}
