package org.seriatim.access.web;

import java.io.IOException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.time.Duration;
import java.util.Arrays;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.security.authentication.AnonymousAuthenticationToken;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Lets nobody ask so often that others have to wait: requests are counted by account, and
 * by network address where nobody is signed in. The files of the pages do not count.
 */
final class RequestRateFilter extends OncePerRequestFilter {

	/** A caller with one line has a whole such network (RFC 6177). */
	private static final int NETWORK_BYTES_OF_IPV6 = 8;

	private final RequestRate ofAccount;

	private final RequestRate ofAddress;

	RequestRateFilter(RequestSettings settings) {
		this.ofAccount = new RequestRate(settings.ofAccount(), System::nanoTime);
		this.ofAddress = new RequestRate(settings.ofAddress(), System::nanoTime);
	}

	/*
	 * Every first page brings a dozen of them; a clinic whose staff come at eight behind
	 * one address would wait.
	 */
	@Override
	protected boolean shouldNotFilter(HttpServletRequest request) {
		return PageFiles.isOneAskedBy(request);
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		var wait = ask(request);
		if (wait.isZero()) {
			chain.doFilter(request, response);
			return;
		}
		response.setHeader(HttpHeaders.RETRY_AFTER, Long.toString(wait.toSeconds() + 1));
		response.sendError(HttpStatus.TOO_MANY_REQUESTS.value());
	}

	private Duration ask(HttpServletRequest request) {
		var signedIn = SecurityContextHolder.getContext().getAuthentication();
		if (signedIn == null || signedIn instanceof AnonymousAuthenticationToken) {
			return this.ofAddress.ask(network(request.getRemoteAddr()));
		}
		return this.ofAccount.ask(signedIn.getName());
	}

	static String network(String address) {
		try {
			var bytes = InetAddress.getByName(address).getAddress();
			return Arrays.toString(bytes.length > 4 ? Arrays.copyOf(bytes, NETWORK_BYTES_OF_IPV6) : bytes);
		}
		catch (UnknownHostException ex) {
			return "unknown";
		}
	}

}
