package org.seriatim.support;

import org.jspecify.annotations.Nullable;

import org.springframework.core.Ordered;
import org.springframework.core.annotation.AnnotatedElementUtils;
import org.springframework.test.annotation.Rollback;
import org.springframework.test.context.TestContext;
import org.springframework.test.context.TestExecutionListener;
import org.springframework.test.context.transaction.TransactionalTestExecutionListener;
import org.springframework.transaction.annotation.AnnotationTransactionAttributeSource;
import org.springframework.transaction.interceptor.TransactionAttribute;

/**
 * Puts database and clock where a test may expect them.
 */
class FreshStart implements TestExecutionListener, Ordered {

	private final AnnotationTransactionAttributeSource transactions = new AnnotationTransactionAttributeSource(false);

	/**
	 * Before the transaction of the test begins.
	 */
	@Override
	public int getOrder() {
		return new TransactionalTestExecutionListener().getOrder() - 1;
	}

	@Override
	public void beforeTestClass(TestContext test) {
		Class<?> sharing = sharing(test);
		if (sharing != null) {
			TestDatabase database = database(test);
			if (!database.isKeptFor(sharing)) {
				database.refresh();
				database.keepFor(sharing);
				database.use();
			}
		}
	}

	@Override
	public void beforeTestMethod(TestContext test) {
		if (sharing(test) == null) {
			TestDatabase database = database(test);
			database.refresh();
			if (!isRolledBack(test)) {
				database.use();
			}
		}
	}

	@Override
	public void afterTestMethod(TestContext test) {
		test.getApplicationContext().getBean(TestClock.class).reset();
	}

	private boolean isRolledBack(TestContext test) {
		TransactionAttribute transaction = this.transactions.getTransactionAttribute(test.getTestMethod(),
				test.getTestClass());
		return transaction != null
				&& transaction.getPropagationBehavior() != TransactionAttribute.PROPAGATION_NOT_SUPPORTED
				&& !isCommitted(test);
	}

	private static boolean isCommitted(TestContext test) {
		Rollback rollback = AnnotatedElementUtils.findMergedAnnotation(test.getTestMethod(), Rollback.class);
		if (rollback == null) {
			rollback = AnnotatedElementUtils.findMergedAnnotation(test.getTestClass(), Rollback.class);
		}
		return rollback != null && !rollback.value();
	}

	/**
	 * The class whose tests share one database: that of the test, or one around it.
	 */
	private static @Nullable Class<?> sharing(TestContext test) {
		for (Class<?> type = test.getTestClass(); type != null; type = type.getEnclosingClass()) {
			if (AnnotatedElementUtils.hasAnnotation(type, OneDatabase.class)) {
				return type;
			}
		}
		return null;
	}

	private static TestDatabase database(TestContext test) {
		return test.getApplicationContext().getBean(TestDatabase.class);
	}

}
