package org.seriatim.shell.web;

import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.springframework.core.convert.ConversionFailedException;
import org.springframework.core.convert.TypeDescriptor;
import org.springframework.core.convert.converter.ConditionalGenericConverter;
import org.springframework.util.ReflectionUtils;

/**
 * Reads identifiers: records with a public static {@code of(String)}. Nothing chosen is
 * no identifier, where the framework's own way would call it a wrong one.
 */
class TextToId implements ConditionalGenericConverter {

	@Override
	public Set<ConvertiblePair> getConvertibleTypes() {
		return Set.of(new ConvertiblePair(String.class, Record.class));
	}

	@Override
	public boolean matches(TypeDescriptor source, TypeDescriptor target) {
		return factory(target.getType()) != null;
	}

	@Override
	public @Nullable Object convert(@Nullable Object source, TypeDescriptor sourceType, TypeDescriptor targetType) {
		var text = (String) source;
		if (text == null || text.isBlank()) {
			return null;
		}
		try {
			return ReflectionUtils.invokeMethod(factory(targetType.getType()), null, text.strip());
		}
		catch (IllegalArgumentException ex) {
			throw new ConversionFailedException(sourceType, targetType, source, ex);
		}
	}

	private static @Nullable Method factory(Class<?> type) {
		var factory = ReflectionUtils.findMethod(type, "of", String.class);
		return (factory != null && Modifier.isStatic(factory.getModifiers())
				&& Modifier.isPublic(factory.getModifiers()) && factory.getReturnType() == type) ? factory : null;
	}

}
