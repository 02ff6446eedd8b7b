package org.seriatim.support;

import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.TestExecutionListeners;
import org.springframework.test.context.TestExecutionListeners.MergeMode;

import org.seriatim.SeriatimApplication;

/**
 * The one context that {@link PageTest} and {@link DatabaseTest} share. A test class that
 * adds beans, properties or profiles of its own makes Spring start another context, which
 * costs everybody seconds.
 */
@Target(ElementType.ANNOTATION_TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Inherited
@SpringBootTest(classes = SeriatimApplication.class,
		properties = { "seriatim.key=" + ApplicationTest.KEY, "seriatim.data=" + ApplicationTest.DATA,
				"seriatim.audit.seal-every=0s", "seriatim.metrics.token=" + ApplicationTest.METRICS_TOKEN,
				"seriatim.outbox.every=0s", "seriatim.backup.at=",
				"seriatim.backup.passphrase-file=src/test/resources/backup/passphrase" })
@AutoConfigureMockMvc
@Import(ApplicationTestConfiguration.class)
@TestExecutionListeners(listeners = FreshStart.class, mergeMode = MergeMode.MERGE_WITH_DEFAULTS)
@interface ApplicationTest {

	/** The data folder of all tests of this process, of which there may be two. */
	String DATA = "target/test-data/${PID}";

	/** For whoever reads the figures about the service. */
	String METRICS_TOKEN = "a token of the tests for the figures";

	/** 32 bytes in base64, so that no test makes a file of its own. */
	String KEY = "dGhlIGtleSBvZiB0aGUgdGVzdHMsIDMyIGJ5dGVzISE=";

}
