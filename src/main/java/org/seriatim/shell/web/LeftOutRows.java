package org.seriatim.shell.web;

import java.io.IOException;
import java.util.Collections;
import java.util.Enumeration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Takes those rows out of a form put together from two versions that were not chosen. The
 * rows after them move up, so that no gap is left.
 */
@Component
class LeftOutRows extends OncePerRequestFilter {

	private static final String CHOICE = "_row.";

	private static final Pattern ROW = Pattern.compile("(?<list>\\w+)\\[(?<index>\\d{1,3})](?<rest>.*)");

	@Override
	protected boolean shouldNotFilter(HttpServletRequest request) {
		return !request.getMethod().equals("POST")
				|| !"application/x-www-form-urlencoded".equals(mediaType(request.getContentType()))
				|| request.getParameter(VersionsInForms.LOOK_FIRST) == null;
	}

	private static @Nullable String mediaType(@Nullable String contentType) {
		return (contentType != null) ? contentType.split(";", 2)[0].strip().toLowerCase(java.util.Locale.ROOT) : null;
	}

	@Override
	protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
			throws ServletException, IOException {
		chain.doFilter(new WithoutRows(request, without(request.getParameterMap())), response);
	}

	static Map<String, String[]> without(Map<String, String[]> sent) {
		var leftOut = new LinkedHashMap<String, Set<Integer>>();
		sent.forEach((name, values) -> {
			if (name.startsWith(CHOICE) && values.length > 0) {
				var row = ROW.matcher(values[0]);
				if (row.matches()) {
					leftOut.computeIfAbsent(row.group("list"), (list) -> new TreeSet<>())
						.add(Integer.parseInt(row.group("index")));
				}
			}
		});
		var kept = new LinkedHashMap<String, String[]>();
		sent.forEach((name, values) -> {
			var row = ROW.matcher(name);
			var gaps = row.matches() ? leftOut.getOrDefault(row.group("list"), Set.of()) : Set.<Integer>of();
			if (gaps.isEmpty()) {
				kept.put(name, values);
			}
			else if (!gaps.contains(Integer.parseInt(row.group("index")))) {
				kept.put(movedUp(row, gaps), values);
			}
		});
		return kept;
	}

	private static String movedUp(Matcher row, Set<Integer> gaps) {
		var index = Integer.parseInt(row.group("index"));
		var before = gaps.stream().filter((gap) -> gap < index).count();
		return row.group("list") + "[" + (index - before) + "]" + row.group("rest");
	}

	private static final class WithoutRows extends HttpServletRequestWrapper {

		private final Map<String, String[]> parameters;

		WithoutRows(HttpServletRequest sent, Map<String, String[]> parameters) {
			super(sent);
			this.parameters = Collections.unmodifiableMap(parameters);
		}

		@Override
		public @Nullable String getParameter(String name) {
			var values = getParameterValues(name);
			return (values != null && values.length > 0) ? values[0] : null;
		}

		@Override
		public String @Nullable [] getParameterValues(String name) {
			return this.parameters.get(name);
		}

		@Override
		public Map<String, String[]> getParameterMap() {
			return this.parameters;
		}

		@Override
		public Enumeration<String> getParameterNames() {
			return Collections.enumeration(this.parameters.keySet());
		}

	}

}
