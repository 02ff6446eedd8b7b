package org.seriatim.support;

import java.lang.annotation.Documented;
import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import org.seriatim.SeriatimApplication;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.SpringBootTest.WebEnvironment;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.TestExecutionListeners;
import org.springframework.test.context.TestExecutionListeners.MergeMode;

/**
 * A test of what travels over a connection: the whole application behind its real server,
 * on PostgreSQL, for the few things that a {@link PageTest} cannot send. It may ask as
 * often as it likes.
 */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Documented
@Inherited
@SpringBootTest(classes = SeriatimApplication.class, webEnvironment = WebEnvironment.RANDOM_PORT,
		properties = { "seriatim.requests.of-account=1000000", "seriatim.requests.of-address=1000000",
				"seriatim.key=" + ApplicationTest.KEY, "seriatim.audit.seal-every=0s" })
@Import(ApplicationTestConfiguration.class)
@TestExecutionListeners(listeners = FreshStart.class, mergeMode = MergeMode.MERGE_WITH_DEFAULTS)
public @interface ServedTest {

}
