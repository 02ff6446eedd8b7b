package org.seriatim.support;

import java.lang.reflect.InvocationHandler;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.lang.reflect.Proxy;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * Listens to what is sent to the database of the tests. A page whose number of statements
 * grows with the record is slow for the patients who have been there longest.
 */
public final class Statements {

	private final List<String> heard = Collections.synchronizedList(new ArrayList<>());

	private volatile boolean listening;

	Statements() {
	}

	/**
	 * The statements that are executed meanwhile, in order; those of the HTTP session are
	 * left out. A batch is one.
	 */
	public List<String> during(Runnable work) {
		this.heard.clear();
		this.listening = true;
		try {
			work.run();
		}
		finally {
			this.listening = false;
		}
		return this.heard.stream().filter((sql) -> !sql.toLowerCase().contains("spring_session")).toList();
	}

	/** The same connection, overheard. */
	Connection overhear(Connection connection) {
		return proxy(Connection.class, (proxy, method, arguments) -> {
			var result = invoke(connection, method, arguments);
			if (result instanceof PreparedStatement prepared) {
				return overhear(PreparedStatement.class, prepared, (String) arguments[0]);
			}
			return (result instanceof Statement statement) ? overhear(Statement.class, statement, null) : result;
		});
	}

	private <S extends Statement> S overhear(Class<S> type, S statement, String prepared) {
		return proxy(type, (proxy, method, arguments) -> {
			if (this.listening && method.getName().startsWith("execute")) {
				this.heard.add((arguments != null && arguments.length > 0 && arguments[0] instanceof String sql) ? sql
						: String.valueOf(prepared));
			}
			return invoke(statement, method, arguments);
		});
	}

	private static Object invoke(Object target, Method method, Object[] arguments) throws Throwable {
		try {
			return method.invoke(target, arguments);
		}
		catch (InvocationTargetException ex) {
			throw ex.getCause();
		}
	}

	private static <T> T proxy(Class<T> type, InvocationHandler handler) {
		return type.cast(Proxy.newProxyInstance(type.getClassLoader(), new Class<?>[] { type }, handler));
	}

}
