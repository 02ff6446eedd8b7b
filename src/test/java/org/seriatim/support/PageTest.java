package org.seriatim.support;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * A test of what a person sees and does: the whole application behind a
 * {@link org.springframework.test.web.servlet.assertj.MockMvcTester}, with security, on
 * PostgreSQL, at {@link TestClock#START}.
 * <p>
 * Writes are committed, as they are for the person. Each test method starts on a fresh
 * database that holds what the migrations put there and nothing else; with
 * {@link OneDatabase} each class does.
 */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Documented
@Inherited
@ApplicationTest
public @interface PageTest {

}
