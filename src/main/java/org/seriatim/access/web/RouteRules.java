package org.seriatim.access.web;

import java.time.Clock;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Supplier;

import org.jspecify.annotations.Nullable;
import org.seriatim.access.EmergencyAccess;
import org.seriatim.access.PatientIndex;
import org.seriatim.access.domain.SignInSettings;
import org.springframework.beans.factory.ObjectProvider;
import org.seriatim.access.domain.SignedIn;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.security.authorization.AllRequiredFactorsAuthorizationManager;
import org.springframework.security.authorization.AuthorizationDecision;
import org.springframework.security.authorization.AuthorizationManager;
import org.springframework.security.authorization.AuthorizationResult;
import org.springframework.security.authorization.RequiredFactor;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.access.intercept.RequestAuthorizationContext;
import org.springframework.stereotype.Component;

/**
 * Decides each row of the table of routes: first by the roles, then by what the person
 * has shown of themselves. Whoever lacks only the latter is asked for it and goes on.
 */
@Component
@ConditionalOnWebApplication
class RouteRules {

	private static final AuthorizationDecision REFUSED = new AuthorizationDecision(false);

	private static final AuthorizationDecision GRANTED = new AuthorizationDecision(true);

	/** The id of the emergency access by which a request is let through. */
	static final String EMERGENCY = RouteRules.class.getName() + ".emergency";

	private final ObjectProvider<PatientIndex> patients;

	private final AuthorizationManager<RequestAuthorizationContext> password;

	private final AuthorizationManager<RequestAuthorizationContext> both;

	private final AuthorizationManager<RequestAuthorizationContext> freshPassword;

	private final AuthorizationManager<RequestAuthorizationContext> freshSecond;

	RouteRules(ObjectProvider<PatientIndex> patients, SignInSettings settings, Clock clock) {
		this.patients = patients;
		var password = RequiredFactor.builder().passwordAuthority().build();
		var second = RequiredFactor.withAuthority(Factors.SECOND).build();
		this.password = required(clock, password);
		this.both = required(clock, password, second);
		this.freshPassword = required(clock,
				RequiredFactor.builder().passwordAuthority().validDuration(settings.fresh()).build());
		this.freshSecond = required(clock,
				RequiredFactor.withAuthority(Factors.SECOND).validDuration(settings.fresh()).build());
	}

	private static AuthorizationManager<RequestAuthorizationContext> required(Clock clock, RequiredFactor... factors) {
		var builder = AllRequiredFactorsAuthorizationManager.<RequestAuthorizationContext>builder();
		List.of(factors).forEach((factor) -> builder.requireFactor(factor));
		var manager = builder.build();
		manager.setClock(clock);
		return manager;
	}

	AuthorizationManager<RequestAuthorizationContext> of(Routes.Route route) {
		return (authentication, context) -> decide(route, authentication.get(), context);
	}

	private AuthorizationResult decide(Routes.Route route, @Nullable Authentication authentication,
			RequestAuthorizationContext context) {
		if (authentication == null || !(authentication.getPrincipal() instanceof SignedIn person)) {
			return REFUSED;
		}
		var emergency = route.record() ? emergency(person, context) : Optional.<EmergencyAccess>empty();
		if (emergency.isEmpty() && person.roles().stream().noneMatch(route.roles()::contains)) {
			return REFUSED;
		}
		if (Factors.has(authentication, Factors.TOKEN)) {
			boolean byRole = person.roles().stream().anyMatch(route.roles()::contains);
			return (byRole && route.assurance() == Routes.Assurance.FULL) ? GRANTED : REFUSED;
		}
		emergency.ifPresent((access) -> context.getRequest().setAttribute(EMERGENCY, access.id()));
		Supplier<Authentication> who = () -> authentication;
		return switch (route.assurance()) {
			case PASSWORD -> result(this.password, who, context);
			case ENROLMENT -> result(person.hasSecondFactor() ? this.both : this.password, who, context);
			case FULL -> full(person, who, context);
			case FRESH -> {
				var full = full(person, who, context);
				// a link may lead there: who follows it is asked then
				yield (full.isGranted() && isSent(context)) ? fresh(who, context) : full;
			}
		};
	}

	/**
	 * The emergency access of the person, if it is to the record that the address shows.
	 */
	private Optional<EmergencyAccess> emergency(SignedIn person, RequestAuthorizationContext context) {
		return person.emergency()
			.filter((access) -> this.patients.stream()
				.flatMap((index) -> index.shownAt(context.getVariables()).stream())
				.anyMatch(access.patient()::equals));
	}

	private AuthorizationResult full(SignedIn person, Supplier<Authentication> who,
			RequestAuthorizationContext context) {
		boolean two = person.hasSecondFactor() || person.needsSecondFactor();
		return result(two ? this.both : this.password, who, context);
	}

	private static boolean isSent(RequestAuthorizationContext context) {
		return context.getRequest().getAttribute(StandingFilter.SENT) != null;
	}

	private AuthorizationResult fresh(Supplier<Authentication> who, RequestAuthorizationContext context) {
		return result(this.freshSecond, who, context).isGranted() ? GRANTED : result(this.freshPassword, who, context);
	}

	private static AuthorizationResult result(AuthorizationManager<RequestAuthorizationContext> manager,
			Supplier<Authentication> who, RequestAuthorizationContext context) {
		return Objects.requireNonNull(manager.authorize(who, context));
	}

}
