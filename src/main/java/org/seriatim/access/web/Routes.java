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

	/**
	 * Addresses that hold the secret by which they are opened. They need no token of a
	 * page and no cookie, which a patient's telephone may not keep.
	 */
	static final String SECRET_ADDRESSES = "/answer/**";

	/**
	 * Figures about the service, for the token of {@link MetricsRule} and for no account.
	 */
	static final String METRICS = "/actuator/prometheus";

	private static final Set<Role> ANYONE_SIGNED_IN = EnumSet.allOf(Role.class);

	/** Who cares for the patient and so may read the clinical record. */
	private static final Set<Role> CLINICAL = EnumSet.of(ASSISTANT, PRACTITIONER, CLINIC_LEAD);

	/** Who may make final clinical entries; an assistant writes drafts only. */
	private static final Set<Role> LICENSED = EnumSet.of(PRACTITIONER, CLINIC_LEAD);

	/** Who may close a finding; nothing else ends it. */
	private static final Set<Role> PRACTITIONERS = EnumSet.of(PRACTITIONER);

	/** Who needs identity, contact and the days of the advice. */
	private static final Set<Role> RECEPTION = EnumSet.of(FRONT_DESK, ASSISTANT, PRACTITIONER, CLINIC_LEAD);

	/** Who says in the morning that somebody is not there. */
	private static final Set<Role> DESK_OR_LICENSED = EnumSet.of(FRONT_DESK, PRACTITIONER, CLINIC_LEAD);

	private static final Set<Role> LEAD = EnumSet.of(CLINIC_LEAD);

	private static final Set<Role> ADMINISTRATION = EnumSet.of(ADMINISTRATOR);

	private static final Set<Role> LICENSED_OR_ADMINISTRATION = EnumSet.of(PRACTITIONER, CLINIC_LEAD, ADMINISTRATOR);

	private static final Set<Role> LEAD_OR_ADMINISTRATION = EnumSet.of(CLINIC_LEAD, ADMINISTRATOR);

	private final List<Route> routes = new ArrayList<>();

	/** What somebody must have shown of themselves beside holding a role. */
	enum Assurance {

		/** The password. */
		PASSWORD,

		/**
		 * The password, and the second factor if there is one: for giving oneself one.
		 */
		ENROLMENT,

		/** The password, and the second factor if there is one or must be one. */
		FULL,

		/** As {@link #FULL}, and one of the two within the last minutes. */
		FRESH

	}

	/**
	 * One row of the table.
	 *
	 * @param roles who may; empty with {@code open} for everybody, signed in or not
	 * @param record whether it shows one patient's record, which an emergency access may
	 * open beyond the roles
	 */
	record Route(HttpMethod method, String pattern, Set<Role> roles, boolean open, Assurance assurance,
			boolean record) {

		private Route with(Assurance other) {
			return new Route(this.method, this.pattern, this.roles, this.open, other, this.record);
		}

		private Route ofRecord() {
			return new Route(this.method, this.pattern, this.roles, this.open, this.assurance, true);
		}

		private PathPattern parsed() {
			return PathPatternParser.defaultInstance.parse(this.pattern);
		}

	}

	/** What more can be said of the rows just written. */
	private final class Rows {

		private final int count;

		private Rows(int count) {
			this.count = count;
		}

		/** Asks again who it is, unless that was shown within the last minutes. */
		void fresh() {
			with(Assurance.FRESH);
		}

		private void with(Assurance assurance) {
			var last = Routes.this.routes.subList(Routes.this.routes.size() - this.count, Routes.this.routes.size());
			last.replaceAll((route) -> route.with(assurance));
		}

	}

	private Routes() {
		open("/sign-in", "/css/**", "/js/**", "/images/**", "/webjars/**", "/favicon.svg");
		open("/actuator/health", "/actuator/health/liveness", "/actuator/health/readiness");
		open("/set-up", "/set-up/restore", "/invitation");
		openWrite("/sign-in", "/set-up", "/set-up/restore", "/invitation");

		open("/answer/{token}", "/answer/{token}/no-mail", "/answer/no-reminders/{token}");
		openWrite("/answer/{token}", "/answer/{token}/no-mail", "/answer/no-reminders/{token}");
		// programs that check mail ask for the head only
		add(HttpMethod.HEAD, "/answer/{token}", Set.of(), true);

		read("/", ANYONE_SIGNED_IN);
		page("/components", ANYONE_SIGNED_IN);
		page("/sign-in/code", ANYONE_SIGNED_IN).with(Assurance.PASSWORD);
		write("/sign-out", ANYONE_SIGNED_IN).with(Assurance.PASSWORD);
		page("/password", ANYONE_SIGNED_IN).with(Assurance.ENROLMENT);
		page("/account/second-factor", ANYONE_SIGNED_IN).with(Assurance.ENROLMENT);
		page("/confirm", ANYONE_SIGNED_IN);
		read("/kept-form", ANYONE_SIGNED_IN);
		read("/stay", ANYONE_SIGNED_IN);
		read("/account", ANYONE_SIGNED_IN);
		write("/account/sign-ins/{sign-in}/end", ANYONE_SIGNED_IN);
		write("/account/sign-ins/end", ANYONE_SIGNED_IN);
		write("/account/second-factor/recovery-codes", ANYONE_SIGNED_IN).fresh();
		write("/account/second-factor/remove", ANYONE_SIGNED_IN).fresh();
		read("/tokens", ANYONE_SIGNED_IN);
		write("/tokens", ANYONE_SIGNED_IN).fresh();
		write("/tokens/{token}/revoke", ANYONE_SIGNED_IN);

		read("/patients", RECEPTION);
		page("/patients/search", RECEPTION);
		page("/patients/new", RECEPTION);
		page("/patients/{patient}/edit", RECEPTION);
		page("/patients/{patient}/scars/new", LICENSED);
		page("/scars/{scar}/edit", LICENSED);
		readRecord("/patients/{patient}/scar-states", CLINICAL);
		page("/patients/{patient}/scar-states/new", LICENSED);
		page("/scar-states/{state}/edit", LICENSED);
		read("/repeat-ratings", LICENSED);
		page("/patients/{patient}/repeat-rating", LICENSED);
		page("/patients/{patient}/assessments/new", LICENSED);
		page("/patients/{patient}/assessments/{day}/{assessor}/edit", LICENSED);
		readRecord("/patients/{patient}/assessments", CLINICAL);
		readRecord("/patients/{patient}/assessments/{day}", CLINICAL);
		page("/patients/{patient}/counts", LICENSED);
		readRecord("/history/{kind}/{entry}", CLINICAL);
		page("/patients/{patient}/counts/{day}/{assessor}/edit", LICENSED);
		readRecord("/patients/{patient}", RECEPTION);

		readRecord("/series/{series}", CLINICAL);
		write("/series/{series}/advice/decision", LICENSED);

		read("/outcomes/lumps", LICENSED);
		read("/outcomes/lumps.csv", LICENSED);
		read("/outcomes/lump-curve.csv", LICENSED);
		read("/outcomes/lump-days.csv", LICENSED);
		read("/outcomes/lump-effects.csv", LICENSED);
		read("/outcomes/improvement", LICENSED);
		read("/outcomes/improvement.csv", LICENSED);
		read("/outcomes/complications", LICENSED);
		read("/outcomes/complications.csv", LICENSED);
		read("/outcomes/repeatability", LICENSED);
		read("/outcomes/repeatability.csv", LICENSED);
		read("/outcomes/data-quality", LICENSED);
		read("/outcomes/data-quality.csv", LICENSED);
		read("/outcomes/report", LEAD);
		page("/outcomes/report/outside", LEAD);
		read("/outcomes/report/outside.csv", LEAD);
		read("/outcomes/recall", LEAD);
		read("/outcomes/recall.csv", LEAD);
		page("/outcomes/practitioner-names", LEAD);
		read("/outcomes/reviews", LEAD);
		write("/outcomes/reviews", LEAD);
		page("/outcomes/reviews/{review}", LEAD);

		read("/today", RECEPTION);
		read("/diary", RECEPTION);
		open("/calendar/{token}.ics");
		read("/appointments/{appointment}/calendar.ics", RECEPTION);
		read("/account/calendar", PRACTITIONERS);
		write("/account/calendar", PRACTITIONERS).fresh();
		write("/account/calendar/revoke", PRACTITIONERS);
		page("/patients/{patient}/appointments/new", RECEPTION);
		read("/appointments/{appointment}", RECEPTION);
		page("/appointments/{appointment}/move", RECEPTION);
		page("/appointments/{appointment}/cancel", RECEPTION);
		write("/appointments/{appointment}/note", RECEPTION);
		write("/appointments/{appointment}/numbing", LICENSED);
		page("/closed-days", DESK_OR_LICENSED);
		write("/closed-days/{closed}/take-back", DESK_OR_LICENSED);
		read("/setup/hours", LEAD_OR_ADMINISTRATION);
		page("/setup/hours/new", LEAD_OR_ADMINISTRATION);
		page("/setup/hours/{hours}/edit", LEAD_OR_ADMINISTRATION);
		write("/setup/hours/{hours}/take-back", LEAD_OR_ADMINISTRATION);
		page("/setup/visit-lengths/{purpose}/edit", LEAD_OR_ADMINISTRATION);

		read("/follow-up", RECEPTION);
		read("/follow-up/advice.csv", RECEPTION);
		readRecord("/series/{series}/advice", CLINICAL);
		readRecord("/series/{series}/advice/{advice}", CLINICAL);

		page("/patients/{patient}/series/new", LICENSED);
		page("/series/{series}/edit", LICENSED);
		page("/series/{series}/end", LICENSED);
		readRecord("/patients/{patient}/before", CLINICAL);
		write("/patients/{patient}/before/answers", CLINICAL);
		write("/patients/{patient}/before/as-last-time", CLINICAL);
		write("/patients/{patient}/before/plan", CLINICAL);
		write("/patients/{patient}/before/weight", CLINICAL);
		write("/patients/{patient}/before/consent", CLINICAL);
		write("/patients/{patient}/before/consent/withdraw", CLINICAL);
		write("/patients/{patient}/before/numbing/start", CLINICAL);
		write("/patients/{patient}/before/numbing/stop", CLINICAL);
		write("/patients/{patient}/before/numbing/correct", CLINICAL);
		write("/patients/{patient}/before/numbing/plan", CLINICAL);
		write("/patients/{patient}/before/take-over", LICENSED);
		write("/patients/{patient}/before/decisions", LICENSED);
		page("/series/{series}/sessions/new", CLINICAL);
		readRecord("/sessions/{session}", CLINICAL);
		page("/sessions/{session}/edit", LICENSED);
		read("/drafts", CLINICAL);
		page("/drafts/{draft}", CLINICAL);
		write("/drafts/{draft}/discard", LICENSED);

		readRecord("/patients/{patient}/photographs", CLINICAL);
		write("/patients/{patient}/photographs", CLINICAL);
		page("/patients/{patient}/photographs/new", CLINICAL);
		readRecord("/patients/{patient}/photographs/earlier", CLINICAL);
		readRecord("/patients/{patient}/photographs/compare", CLINICAL);
		write("/patients/{patient}/photographs/landmarks", CLINICAL);
		page("/patients/{patient}/photographs/consent", RECEPTION);
		page("/photograph-consents/{consent}/withdraw", RECEPTION);
		readRecord("/photographs/{photograph}", CLINICAL);
		readRecord("/photographs/{photograph}/picture", CLINICAL);
		readRecord("/photographs/{photograph}/small", CLINICAL);
		page("/photographs/{photograph}/edit", CLINICAL);
		page("/photographs/{photograph}/set-aside", LICENSED);
		write("/photographs/{photograph}/copy", LICENSED).fresh();

		page("/patients/{patient}/emergency", RECEPTION);
		page("/patients/{patient}/findings/new", LICENSED);
		read("/patients/{patient}/findings/caution", LICENSED);
		readRecord("/findings/{finding}", CLINICAL);
		page("/findings/{finding}/edit", LICENSED);
		page("/findings/{finding}/observations/new", LICENSED);
		page("/observations/{observation}/edit", LICENSED);
		page("/findings/{finding}/actions/new", LICENSED);
		page("/finding-actions/{action}/edit", LICENSED);
		page("/findings/{finding}/reports/new", LICENSED);
		page("/finding-reports/{report}/edit", LICENSED);
		page("/findings/{finding}/causality", LICENSED);
		read("/findings/{finding}/summary", LICENSED);
		read("/emergencies", LICENSED);
		write("/findings/{finding}/acknowledge", PRACTITIONERS);
		page("/findings/{finding}/close", PRACTITIONERS);
		page("/findings/{finding}/reopen", PRACTITIONERS);
		page("/sessions/{session}/contacts/new", RECEPTION);
		page("/patients/{patient}/contact-link", RECEPTION);
		write("/patients/{patient}/contact-link/revoke", RECEPTION);
		write("/patients/{patient}/contact-link/mail", RECEPTION);
		write("/patients/{patient}/contact-link/reminders", RECEPTION);
		read("/outbox", RECEPTION);
		read("/outbox/{message}", RECEPTION);
		write("/outbox/{message}/again", RECEPTION);
		page("/setup/contact-links", LEAD_OR_ADMINISTRATION);
		page("/setup/reminders", LEAD_OR_ADMINISTRATION);
		page("/contacts/{contact}/edit", RECEPTION);

		page("/emergency-access", EnumSet.of(FRONT_DESK, ADMINISTRATOR));
		write("/emergency-access/end", ANYONE_SIGNED_IN);
		read("/setup/emergency-access", LEAD);
		write("/setup/emergency-access/{access}/review", LEAD);

		read("/setup/protocol", LICENSED_OR_ADMINISTRATION);
		page("/setup/protocol/new", LEAD);
		read("/setup/usual-practice", LICENSED_OR_ADMINISTRATION);
		page("/setup/usual-practice/new", LEAD);
		read("/setup/screening", LICENSED_OR_ADMINISTRATION);
		page("/setup/screening/new", LEAD);
		read("/setup/products", LEAD_OR_ADMINISTRATION);
		page("/setup/products/new", LEAD_OR_ADMINISTRATION);
		page("/setup/products/{product}/edit", LEAD_OR_ADMINISTRATION);
		page("/setup/products/{product}/lots/new", LEAD_OR_ADMINISTRATION);
		page("/setup/lots/{lot}/edit", LEAD_OR_ADMINISTRATION);
		page("/setup/import", LEAD_OR_ADMINISTRATION);
		read("/setup/import/{job}/problems.csv", LEAD_OR_ADMINISTRATION);
		page("/setup/audit", LEAD_OR_ADMINISTRATION);
		write("/setup/audit.csv", LEAD_OR_ADMINISTRATION).fresh();
		read("/setup/backups", LEAD_OR_ADMINISTRATION);
		write("/setup/backups", ADMINISTRATION).fresh();
		write("/setup/backups/download", ADMINISTRATION).fresh();
		read("/setup/erasures", LEAD);
		page("/setup/retention", LEAD).fresh();
		page("/setup/retention/rules", LEAD);
		page("/patients/{patient}/erase", LEAD).fresh();
		page("/patients/{patient}/hold", LEAD);
		read("/patients/{patient}/openings", LEAD);
		read("/patients/{patient}/report", LEAD);
		write("/patients/{patient}/report.zip", LEAD).fresh();
		page("/setup/export", LEAD).fresh();
		read("/setup/accounts", ADMINISTRATION);
		write("/setup/accounts", ADMINISTRATION).fresh();
		read("/setup/accounts/{account}", ADMINISTRATION);
		write("/setup/accounts/{account}/roles", ADMINISTRATION).fresh();
		write("/setup/accounts/{account}/invitation", ADMINISTRATION).fresh();
		write("/setup/accounts/{account}/second-factor", ADMINISTRATION).fresh();
		write("/setup/accounts/{account}/active", ADMINISTRATION).fresh();
		write("/setup/accounts/{account}/sign-ins/end", ADMINISTRATION);
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
	private Rows read(String pattern, Set<Role> roles) {
		return add(HttpMethod.GET, pattern, roles, false);
	}

	/** An address that shows one patient's record. */
	private void readRecord(String pattern, Set<Role> roles) {
		read(pattern, roles);
		this.routes.add(this.routes.remove(this.routes.size() - 1).ofRecord());
	}

	/** An address that changes something. */
	private Rows write(String pattern, Set<Role> roles) {
		return add(HttpMethod.POST, pattern, roles, false);
	}

	/** A page with its form: shown and sent at one address. */
	private Rows page(String pattern, Set<Role> roles) {
		read(pattern, roles);
		write(pattern, roles);
		return new Rows(2);
	}

	private Rows add(HttpMethod method, String pattern, Set<Role> roles, boolean open) {
		this.routes.add(new Route(method, pattern, Set.copyOf(roles), open, Assurance.FULL, false));
		return new Rows(1);
	}

}
