package org.seriatim.support;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import org.springframework.transaction.annotation.Transactional;

/**
 * A test of mapping, queries, constraints and services on PostgreSQL, in the context of
 * {@link PageTest}.
 * <p>
 * Each test method runs in a transaction that is rolled back, so flush before expecting a
 * constraint to speak, and clear before reading back through JPA. What commits on its own
 * (a new transaction, a listener after commit) needs
 * {@code @Transactional(propagation = NOT_SUPPORTED)} on the method, or a
 * {@link PageTest}: those get a fresh database instead.
 */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Documented
@Inherited
@ApplicationTest
@Transactional
public @interface DatabaseTest {

}
