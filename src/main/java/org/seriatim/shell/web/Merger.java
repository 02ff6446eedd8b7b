package org.seriatim.shell.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Choice;
import org.seriatim.shell.Written;
import org.seriatim.shell.web.FormContent.Field;
import org.seriatim.shell.web.FormContent.Fingerprints;
import org.seriatim.shell.web.FormContent.Row;
import org.springframework.context.MessageSource;

/**
 * Lays what is stored beside what was typed: which field differs, who changed it, and
 * which value goes on if nobody chooses otherwise. What only one of the two changed keeps
 * that change; where both did, or nobody can tell, what was typed goes on.
 */
final class Merger {

	/** Where nothing was said. */
	private static final String NOTHING = "–";

	private final FormContent now;

	private final FormContent typed;

	private final Fingerprints shown;

	private final Words words;

	private final List<Line> lines = new ArrayList<>();

	private final List<Same> same = new ArrayList<>();

	private final List<Hidden> hidden = new ArrayList<>();

	private int rowLines;

	/**
	 * @param shown the values that the typed form was filled from
	 */
	Merger(FormContent now, FormContent typed, Fingerprints shown, Words words) {
		this.now = now;
		this.typed = typed.withoutClashes(now, shown);
		this.shown = shown;
		this.words = words;
	}

	/** Who changed a value since the form was opened. */
	enum Changed {

		/** The person who is told of the conflict. */
		YOU,

		/** Whoever saved the newer version. */
		THEM,

		BOTH,

		/** Nobody can tell any more. */
		EITHER

	}

	/**
	 * Something in which the two versions differ.
	 *
	 * @param now as it is stored
	 * @param typed as it was typed
	 * @param control the parameter by which the choice is sent; none where what was typed
	 * goes on
	 */
	record Line(String title, String now, String typed, Changed changed, @Nullable String control, String nowValue,
			String typedValue, boolean typedGoesOn) {

		/** The message that says who changed it. */
		public String changedBy() {
			return "shell.both.changed." + this.changed.name().toLowerCase(Locale.ROOT);
		}

	}

	/** A field in which they agree. */
	record Same(String title, String value) {
	}

	/** What goes on whatever is chosen. */
	record Hidden(String parameter, String value) {
	}

	/**
	 * Both versions side by side.
	 */
	record BothVersions(List<Line> lines, List<Same> same, List<Hidden> hidden) {

		public BothVersions {
			lines = List.copyOf(lines);
			same = List.copyOf(same);
			hidden = List.copyOf(hidden);
		}

	}

	BothVersions merged() {
		this.typed.fields().forEach((name, field) -> {
			var stored = this.now.fields().getOrDefault(name, new Field(null));
			field(this.words.field(name), name, stored, field, this.shown.differs(name, stored),
					this.shown.differs(name, field));
		});
		this.typed.lists().forEach((list, rows) -> rows(list, this.now.lists().getOrDefault(list, Map.of()), rows));
		return new BothVersions(this.lines, this.same, this.hidden);
	}

	private void field(String title, String parameter, Field stored, Field typed, boolean byThem, boolean byYou) {
		if (Objects.equals(stored.text(), typed.text())) {
			if (stored.text() != null) {
				stored.several().forEach((value) -> this.hidden.add(new Hidden(parameter, value)));
				this.same.add(new Same(title, this.words.value(stored)));
			}
			return;
		}
		if (stored.takesSeveral() || typed.takesSeveral()) {
			// one control cannot stand for several values: what was ticked last goes on
			typed.several().forEach((value) -> this.hidden.add(new Hidden(parameter, value)));
			this.lines.add(new Line(title, this.words.value(stored), this.words.value(typed), changed(byThem, byYou),
					null, "", "", true));
			return;
		}
		this.lines.add(new Line(title, this.words.value(stored), this.words.value(typed), changed(byThem, byYou),
				parameter, Objects.requireNonNullElse(stored.text(), ""), Objects.requireNonNullElse(typed.text(), ""),
				byYou));
	}

	private Changed changed(boolean byThem, boolean byYou) {
		if (!this.shown.isKnown()) {
			return Changed.EITHER;
		}
		return (byThem && byYou) ? Changed.BOTH : byYou ? Changed.YOU : Changed.THEM;
	}

	private void rows(String list, Map<String, Row> stored, Map<String, Row> typed) {
		var keys = new LinkedHashSet<>(stored.keySet());
		keys.addAll(typed.keySet());
		int index = 0;
		for (var key : keys) {
			var added = typed.get(key);
			if (stored.containsKey(key) || added != null && !added.isBlank()) {
				row(list, list + "[" + index++ + "]", key, stored.get(key), added);
			}
		}
	}

	private void row(String list, String path, String key, @Nullable Row stored, @Nullable Row typed) {
		var any = Objects.requireNonNull((stored != null) ? stored : typed);
		if (any.keyComponent() != null) {
			this.hidden.add(new Hidden(path + "." + any.keyComponent(), key));
		}
		var title = this.words.row(list, key);
		if (stored != null && typed != null) {
			typed.fields().forEach((name, field) -> {
				var before = stored.fields().getOrDefault(name, new Field(null));
				field(this.words.fieldOfRow(title, list, name), path + "." + name, before, field,
						this.shown.differs(list, key, name, before), this.shown.differs(list, key, name, field));
			});
			return;
		}
		any.fields().forEach((name, field) -> {
			if (field.text() != null) {
				this.hidden.add(new Hidden(path + "." + name, field.text()));
			}
		});
		if (!any.isBlank()) {
			this.lines.add(wholeRow(title, list, path, key, any, stored != null));
		}
	}

	/**
	 * A row that one version has and the other has not: added by one of the two, or taken
	 * out by the other.
	 */
	private Line wholeRow(String title, String list, String path, String key, Row row, boolean isStored) {
		var wasThere = this.shown.hasRow(list, key);
		var isChanged = row.fields()
			.entrySet()
			.stream()
			.anyMatch((field) -> this.shown.differs(list, key, field.getKey(), field.getValue()));
		var stays = !wasThere || isChanged;
		var text = row.fields()
			.entrySet()
			.stream()
			.filter((field) -> field.getValue().text() != null)
			.map((field) -> this.words.fieldOfList(list, field.getKey()) + " " + this.words.value(field.getValue()))
			.collect(Collectors.joining(", "));
		var control = "_row." + this.rowLines++;
		var changed = !this.shown.isKnown() ? Changed.EITHER
				: (wasThere && isChanged) ? Changed.BOTH : (wasThere == isStored) ? Changed.YOU : Changed.THEM;
		// the value of the parameter names the row that is left out
		return isStored ? new Line(title, text, this.words.notThere(), changed, control, "", path, !stays)
				: new Line(title, this.words.notThere(), text, changed, control, path, "", stays);
	}

	/** What fields, rows and values are called on the pages. */
	static final class Words {

		private final MessageSource messages;

		private final Locale locale;

		private final Map<String, String> choices = new LinkedHashMap<>();

		private final Map<?, ?> rowNames;

		/**
		 * @param model of the page that the form stands on: the texts of its choices, and
		 * under {@code rowNames} what its rows are called by key
		 */
		Words(MessageSource messages, Locale locale, Map<String, Object> model) {
			this.messages = messages;
			this.locale = locale;
			this.rowNames = (model.get("rowNames") instanceof Map<?, ?> names) ? names : Map.of();
			for (var attribute : model.values()) {
				if (attribute instanceof Collection<?> several) {
					several.stream()
						.filter(Choice.class::isInstance)
						.map(Choice.class::cast)
						.forEach((choice) -> this.choices.putIfAbsent(choice.value(), choice.label()));
				}
			}
		}

		String field(String name) {
			return message("field." + name, new FieldName(name).words());
		}

		String fieldOfList(String list, String name) {
			return message("field." + list + "." + name, new FieldName(name).words());
		}

		String fieldOfRow(String row, String list, String name) {
			return message("shell.both.field-of-row", "", row, fieldOfList(list, name));
		}

		String row(String list, String key) {
			var name = this.rowNames.containsKey(key) ? String.valueOf(this.rowNames.get(key)) : key;
			return message("row." + list, new FieldName(list).words() + " " + key, message(name, name));
		}

		String notThere() {
			return message("shell.both.not-there", NOTHING);
		}

		String value(Field field) {
			var value = field.value();
			var text = field.text();
			if (value == null || text == null) {
				return NOTHING;
			}
			if (value instanceof Collection<?> several) {
				return several.stream().map((one) -> value(new Field(one))).collect(Collectors.joining(", "));
			}
			if (value instanceof Enum<?> constant) {
				var vocabulary = constant.getDeclaringClass()
					.getSimpleName()
					.replaceAll("(?<=[a-z])(?=[A-Z])", "-")
					.toLowerCase(Locale.ROOT);
				return message(vocabulary + "." + text, text.replace('_', ' '));
			}
			if (value instanceof Boolean truth) {
				return message(truth ? "shell.yes" : "shell.no", text);
			}
			if (text.matches("\\d{4}-\\d{2}-\\d{2}")) {
				return Written.day(LocalDate.parse(text));
			}
			if (this.choices.containsKey(text) && !text.matches("-?\\d+")) {
				return message(this.choices.get(text), this.choices.get(text));
			}
			return text;
		}

		private String message(String key, String otherwise, Object... arguments) {
			return Objects.requireNonNullElse(this.messages.getMessage(key, arguments, otherwise, this.locale),
					otherwise);
		}

	}

}
