package org.seriatim.shell.web;

import java.lang.reflect.RecordComponent;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.stream.Stream;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.springframework.core.MethodParameter;
import org.springframework.core.ResolvableType;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.HandlerInterceptor;

/**
 * Refuses files where no form takes any: a file that arrives under the name of a text
 * field would be shown as what it is to the program.
 */
@Component
class UploadGuard implements HandlerInterceptor {

	private final Map<HandlerMethod, Boolean> takesFiles = new ConcurrentHashMap<>();

	@Override
	public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler)
			throws Exception {
		var type = request.getContentType();
		if (type == null || !type.toLowerCase(Locale.ROOT).startsWith("multipart/")
				|| !(handler instanceof HandlerMethod method)
				|| !method.getBeanType().getName().startsWith("org.seriatim.")
				|| this.takesFiles.computeIfAbsent(method, UploadGuard::takesFiles)) {
			return true;
		}
		response.sendError(HttpStatus.UNSUPPORTED_MEDIA_TYPE.value());
		return false;
	}

	private static boolean takesFiles(HandlerMethod method) {
		return Arrays.stream(method.getMethodParameters()).flatMap(UploadGuard::types).anyMatch(UploadGuard::isFile);
	}

	private static Stream<ResolvableType> types(MethodParameter parameter) {
		var type = ResolvableType.forMethodParameter(parameter);
		var form = parameter.getParameterType();
		return form.isRecord() ? Arrays.stream(form.getRecordComponents())
			.map(RecordComponent::getGenericType)
			.map(ResolvableType::forType) : Stream.of(type);
	}

	private static boolean isFile(ResolvableType type) {
		return MultipartFile.class.isAssignableFrom(type.toClass())
				|| MultipartFile.class.isAssignableFrom(type.getGeneric().toClass());
	}

}
