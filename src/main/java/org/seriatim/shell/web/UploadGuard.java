package org.seriatim.shell.web;

import java.lang.reflect.RecordComponent;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.core.DefaultParameterNameDiscoverer;
import org.springframework.core.MethodParameter;
import org.springframework.core.ResolvableType;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.multipart.MultipartRequest;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.util.WebUtils;

/**
 * Refuses files that no form asks for: a file that arrives under the name of a text field
 * would be shown as what it is to the program.
 */
@Component
class UploadGuard implements HandlerInterceptor {

	private final Map<HandlerMethod, Set<String>> filesTaken = new ConcurrentHashMap<>();

	@Override
	public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler)
			throws Exception {
		var type = request.getContentType();
		if (type == null || !type.toLowerCase(Locale.ROOT).startsWith("multipart/")
				|| !(handler instanceof HandlerMethod method)
				|| !method.getBeanType().getName().startsWith("org.seriatim.")) {
			return true;
		}
		var taken = this.filesTaken.computeIfAbsent(method, UploadGuard::filesTaken);
		if (!taken.isEmpty() && taken.containsAll(filesSent(request))) {
			return true;
		}
		response.sendError(HttpStatus.UNSUPPORTED_MEDIA_TYPE.value());
		return false;
	}

	private static Set<String> filesSent(HttpServletRequest request) {
		var parts = WebUtils.getNativeRequest(request, MultipartRequest.class);
		return (parts != null) ? parts.getMultiFileMap().keySet() : Set.of();
	}

	/** The names under which a handler takes files. */
	private static Set<String> filesTaken(HandlerMethod method) {
		return Arrays.stream(method.getMethodParameters()).flatMap(UploadGuard::files).collect(Collectors.toSet());
	}

	private static Stream<String> files(MethodParameter parameter) {
		var form = parameter.getParameterType();
		if (form.isRecord()) {
			return Arrays.stream(form.getRecordComponents())
				.filter((component) -> isFile(ResolvableType.forType(component.getGenericType())))
				.map(RecordComponent::getName);
		}
		parameter.initParameterNameDiscovery(new DefaultParameterNameDiscoverer());
		return isFile(ResolvableType.forMethodParameter(parameter)) ? Stream.ofNullable(parameter.getParameterName())
				: Stream.empty();
	}

	private static boolean isFile(ResolvableType type) {
		return MultipartFile.class.isAssignableFrom(type.toClass())
				|| MultipartFile.class.isAssignableFrom(type.getGeneric().toClass());
	}

}
