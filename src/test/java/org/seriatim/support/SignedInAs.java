package org.seriatim.support;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import org.springframework.security.test.context.support.WithSecurityContext;

import org.seriatim.access.Role;

/**
 * Somebody with these roles, and with a real account, is signed in while the test runs,
 * in a {@link DatabaseTest} as in a {@link PageTest}. A single request of somebody else:
 * {@link TestStaff}.
 */
@Target({ ElementType.TYPE, ElementType.METHOD })
@Retention(RetentionPolicy.RUNTIME)
@Documented
@Inherited
@WithSecurityContext(factory = SignedInAsFactory.class)
public @interface SignedInAs {

	Role[] value();

}
