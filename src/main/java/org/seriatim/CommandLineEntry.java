package org.seriatim;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;

import org.jspecify.annotations.Nullable;
import org.springframework.boot.Banner;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.ClassPathScanningCandidateComponentProvider;
import org.springframework.core.type.filter.AnnotationTypeFilter;
import org.springframework.util.ClassUtils;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;

/**
 * The jar's command line: {@code serve}, the default, and the commands that modules
 * contribute as components annotated with {@link Command}. What starts with {@code --}
 * before any command is a configuration property. Exit codes: 0 done, 1 refused (the
 * reasons stand on standard error), 2 wrong usage.
 */
final class CommandLineEntry {

	private static final int REFUSED = 1;

	private final Class<?> application;

	private @Nullable ConfigurableApplicationContext context;

	CommandLineEntry(Class<?> application) {
		this.application = application;
	}

	int run(String... args) {
		var properties = new ArrayList<String>();
		var words = new ArrayList<String>();
		for (String arg : args) {
			(arg.startsWith("--") && arg.contains(".") && arg.contains("=") ? properties : words).add(arg);
		}
		if (words.isEmpty() || words.get(0).equals("serve")) {
			return (words.size() > 1)
					? wrongUsage("serve takes no arguments, only properties such as --server.port=8080")
					: serve(properties);
		}
		try {
			return commandLine(properties, words.get(0)).execute(words.toArray(String[]::new));
		}
		finally {
			if (this.context != null) {
				this.context.close();
			}
		}
	}

	private int wrongUsage(String message) {
		System.err.println(message);
		return CommandLine.ExitCode.USAGE;
	}

	private int serve(List<String> properties) {
		var running = SpringApplication.run(this.application, properties.toArray(String[]::new));
		var stopped = new java.util.concurrent.CountDownLatch(1);
		running.addApplicationListener((event) -> {
			if (event instanceof org.springframework.context.event.ContextClosedEvent) {
				stopped.countDown();
			}
		});
		try {
			stopped.await();
		}
		catch (InterruptedException ex) {
			Thread.currentThread().interrupt();
		}
		return 0;
	}

	private CommandLine commandLine(List<String> properties, String name) {
		var root = CommandSpec.create().name("seriatim");
		root.usageMessage().description("A clinic's record and advice for series of treatment sessions.");
		root.mixinStandardHelpOptions(true);
		var line = new CommandLine(root);
		line.addSubcommand(CommandSpec.create()
			.name("serve")
			.usageMessage(new CommandLine.Model.UsageMessageSpec().description("Starts the service; the default.")));
		for (Class<?> command : contributed()) {
			line.addSubcommand(new CommandLine(command, new CommandLine.IFactory() {
				@Override
				public <K> K create(Class<K> type) throws Exception {
					return type.isAnnotationPresent(Command.class) ? started(properties, name).getBean(type)
							: CommandLine.defaultFactory().create(type);
				}
			}));
		}
		line.setExecutionExceptionHandler((ex, commandLine, result) -> {
			PrintWriter err = commandLine.getErr();
			err.println(Objects.requireNonNullElse(ex.getMessage(), ex.getClass().getSimpleName()));
			err.flush();
			return REFUSED;
		});
		return line;
	}

	private List<Class<?>> contributed() {
		var scanner = new ClassPathScanningCandidateComponentProvider(false);
		scanner.addIncludeFilter(new AnnotationTypeFilter(Command.class));
		var commands = new ArrayList<Class<?>>();
		for (var candidate : scanner.findCandidateComponents(this.application.getPackageName())) {
			commands.add(ClassUtils.resolveClassName(Objects.requireNonNull(candidate.getBeanClassName()), null));
		}
		return commands;
	}

	/** A command runs inside the service's own configuration, without its web server. */
	private ConfigurableApplicationContext started(List<String> properties, String name) {
		var running = this.context;
		if (running == null) {
			try {
				running = new SpringApplicationBuilder(this.application).web(WebApplicationType.NONE)
					.initializers(
							(command) -> command.getBeanFactory().registerSingleton("withoutPages", new WithoutPages()))
					.bannerMode(Banner.Mode.OFF)
					.logStartupInfo(false)
					.properties(Map.of("seriatim.command", "true", "seriatim.command-name", name, "logging.level.root",
							"warn"))
					.run(properties.toArray(String[]::new));
			}
			catch (RuntimeException ex) {
				throw new NotStarted(ex);
			}
			this.context = running;
		}
		return running;
	}

	/**
	 * The application has said why it does not start; picocli would print it once more,
	 * with the way it came.
	 */
	private static final class NotStarted extends CommandLine.InitializationException {

		NotStarted(Exception cause) {
			super("The command's application does not start", cause);
		}

		@Override
		public void printStackTrace(PrintWriter out) {
		}

	}

}
