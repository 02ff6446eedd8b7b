package org.seriatim.shell.web;

import java.util.List;

import org.jspecify.annotations.Nullable;
import org.springframework.boot.webmvc.autoconfigure.WebMvcRegistrations;
import org.springframework.stereotype.Component;
import org.springframework.validation.AbstractPropertyBindingResult;
import org.springframework.web.bind.ServletRequestDataBinder;
import org.springframework.web.context.request.NativeWebRequest;
import org.springframework.web.method.annotation.InitBinderDataBinderFactory;
import org.springframework.web.method.support.InvocableHandlerMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerAdapter;
import org.springframework.web.servlet.mvc.method.annotation.ServletRequestDataBinderFactory;

/**
 * Lets a controller add to what is wrong with a form although one of its fields could not
 * be read. The framework then makes the record with an empty field, but keeps the errors
 * as those of no form at all and takes a further one for a fault of the program.
 */
@Component
class FormBinding implements WebMvcRegistrations {

	@Override
	public RequestMappingHandlerAdapter getRequestMappingHandlerAdapter() {
		return new RequestMappingHandlerAdapter() {

			@Override
			protected InitBinderDataBinderFactory createDataBinderFactory(List<InvocableHandlerMethod> initializers) {
				return new ServletRequestDataBinderFactory(initializers, getWebBindingInitializer()) {

					@Override
					protected ServletRequestDataBinder createBinderInstance(@Nullable Object form, String name,
							NativeWebRequest request) {
						return new FormBinder(form, name);
					}

				};
			}

		};
	}

	private static final class FormBinder extends ServletRequestDataBinder {

		private @Nullable AbstractPropertyBindingResult ofTheForm;

		FormBinder(@Nullable Object form, String name) {
			super(form, name);
		}

		@Override
		protected AbstractPropertyBindingResult getInternalBindingResult() {
			if (this.ofTheForm != null) {
				return this.ofTheForm;
			}
			var errors = super.getInternalBindingResult();
			if (getTarget() == null || errors.getTarget() != null || !errors.hasErrors()) {
				return errors;
			}
			this.ofTheForm = createBeanPropertyBindingResult();
			this.ofTheForm.addAllErrors(errors);
			return this.ofTheForm;
		}

	}

}
