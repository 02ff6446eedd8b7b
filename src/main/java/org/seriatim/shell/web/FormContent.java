package org.seriatim.shell.web;

import java.lang.annotation.Annotation;
import java.lang.reflect.RecordComponent;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;

import org.jspecify.annotations.Nullable;
import org.seriatim.shell.RowKey;
import org.seriatim.shell.RowReference;
import org.seriatim.shell.ShownVersion;
import org.springframework.util.ReflectionUtils;

/**
 * What a form says, field by field and row by row, so that two versions of it can be laid
 * side by side.
 *
 * @param version the component that says from which version the form was filled
 * @param fields the form's own fields by component; the version is none of them
 * @param lists its rows, by component and key, in their order
 */
record FormContent(@Nullable String version, Map<String, Field> fields, Map<String, Map<String, Row>> lists) {

	/** What was typed into one control. */
	record Field(@Nullable Object value) {

		/** As the form sends it; {@code null} where nothing was said. */
		@Nullable String text() {
			if (this.value == null) {
				return null;
			}
			if (this.value instanceof Enum<?> constant) {
				return constant.name().toLowerCase(Locale.ROOT);
			}
			if (this.value instanceof Collection<?>) {
				return several().isEmpty() ? null : String.join(",", several());
			}
			return this.value.toString();
		}

		/** The values of a field that takes any number of them; of any other its one. */
		List<String> several() {
			if (this.value instanceof Collection<?> several) {
				return several.stream().map((one) -> new Field(one).text()).filter(Objects::nonNull).sorted().toList();
			}
			var one = text();
			return (one != null) ? List.of(one) : List.of();
		}

		boolean takesSeveral() {
			return this.value instanceof Collection<?>;
		}

	}

	/**
	 * One row of a list.
	 *
	 * @param keyComponent the component that says which row it is; none where the place
	 * decides
	 * @param references which of its fields name a row of another list, and of which
	 */
	record Row(@Nullable String keyComponent, Map<String, Field> fields, Map<String, String> references) {

		/** Whether nothing was typed into it. */
		boolean isBlank() {
			return this.fields.entrySet()
				.stream()
				.filter((field) -> !this.references.containsKey(field.getKey()))
				.allMatch((field) -> field.getValue().text() == null);
		}

		Row with(String component, Object value) {
			var changed = new LinkedHashMap<>(this.fields);
			changed.put(component, new Field(value));
			return new Row(this.keyComponent, changed, this.references);
		}

	}

	/** Whether an object is a form that shows a version of something. */
	static boolean isVersioned(@Nullable Object form) {
		return form instanceof Record shown && version(shown.getClass()) != null;
	}

	static FormContent of(Record form) {
		var version = version(form.getClass());
		var fields = new LinkedHashMap<String, Field>();
		var lists = new LinkedHashMap<String, Map<String, Row>>();
		for (var component : form.getClass().getRecordComponents()) {
			var name = component.getName();
			if (List.class.isAssignableFrom(component.getType())) {
				lists.put(name, rows((List<?>) Objects.requireNonNullElse(value(component, form), List.of())));
			}
			else if (!name.equals(version)) {
				fields.put(name, new Field(value(component, form)));
			}
		}
		return new FormContent(version, fields, lists);
	}

	private static @Nullable String version(Class<?> type) {
		return Arrays.stream(type.getRecordComponents())
			.filter((component) -> component.getName().equals("version") || has(component, ShownVersion.class))
			.map(RecordComponent::getName)
			.findFirst()
			.orElse(null);
	}

	/** Which version a form was filled from. */
	static @Nullable Object version(Record form, FormContent content) {
		return Arrays.stream(form.getClass().getRecordComponents())
			.filter((component) -> component.getName().equals(content.version()))
			.map((component) -> value(component, form))
			.filter(Objects::nonNull)
			.findFirst()
			.orElse(null);
	}

	private static Map<String, Row> rows(List<?> list) {
		var rows = new LinkedHashMap<String, Row>();
		for (var one : list) {
			if (one instanceof Record row) {
				var read = row(row);
				rows.putIfAbsent((read.key() != null) ? read.key() : "#" + rows.size(), read.row());
			}
		}
		return rows;
	}

	private record ReadRow(@Nullable String key, Row row) {
	}

	private static ReadRow row(Record row) {
		String keyComponent = null;
		String key = null;
		var fields = new LinkedHashMap<String, Field>();
		var references = new LinkedHashMap<String, String>();
		for (var component : row.getClass().getRecordComponents()) {
			var field = new Field(value(component, row));
			if (has(component, RowKey.class)) {
				keyComponent = component.getName();
				key = field.text();
			}
			else {
				fields.put(component.getName(), field);
				if (has(component, RowReference.class)) {
					references.put(component.getName(), component.getAnnotation(RowReference.class).value());
				}
			}
		}
		return new ReadRow(key, new Row(keyComponent, fields, references));
	}

	private static boolean has(RecordComponent component, Class<? extends Annotation> annotation) {
		return component.isAnnotationPresent(annotation);
	}

	private static @Nullable Object value(RecordComponent component, Record of) {
		var accessor = component.getAccessor();
		ReflectionUtils.makeAccessible(accessor);
		return ReflectionUtils.invokeMethod(accessor, of);
	}

	/**
	 * Rows of this form that another one added too, under the same key, are others: they
	 * get a key that neither uses.
	 * @param known the rows that both were filled from
	 */
	FormContent withoutClashes(FormContent other, Fingerprints known) {
		var moved = new LinkedHashMap<String, Map<String, String>>();
		var renamed = new LinkedHashMap<String, Map<String, Row>>();
		this.lists.forEach((list, rows) -> {
			var theirs = other.lists.getOrDefault(list, Map.of());
			var taken = new LinkedHashSet<>(rows.keySet());
			taken.addAll(theirs.keySet());
			var result = new LinkedHashMap<String, Row>();
			rows.forEach((key, row) -> {
				var isAnother = theirs.containsKey(key) && !known.hasRow(list, key) && isNumber(key)
						&& !row.fields().equals(theirs.get(key).fields());
				if (isAnother) {
					var next = next(taken);
					taken.add(next);
					moved.computeIfAbsent(list, (ignored) -> new LinkedHashMap<>()).put(key, next);
					result.put(next, row);
				}
				else {
					result.put(key, row);
				}
			});
			renamed.put(list, result);
		});
		renamed.replaceAll((list, rows) -> follow(rows, moved));
		return new FormContent(this.version, this.fields, renamed);
	}

	private static Map<String, Row> follow(Map<String, Row> rows, Map<String, Map<String, String>> moved) {
		var result = new LinkedHashMap<String, Row>();
		rows.forEach((key, row) -> {
			var followed = row;
			for (var reference : row.references().entrySet()) {
				var named = row.fields().get(reference.getKey()).text();
				var renamed = moved.get(reference.getValue());
				if (named != null && renamed != null && renamed.containsKey(named)) {
					followed = followed.with(reference.getKey(), renamed.get(named));
				}
			}
			result.put(key, followed);
		});
		return result;
	}

	private static boolean isNumber(String key) {
		return key.matches("\\d{1,9}");
	}

	private static String next(Set<String> taken) {
		return Integer
			.toString(taken.stream().filter(FormContent::isNumber).mapToInt(Integer::parseInt).max().orElse(0) + 1);
	}

	/**
	 * A mark of every value, short enough to travel with the form and come back: from it
	 * can be told who changed what, and nothing can be read.
	 */
	Fingerprints fingerprints() {
		var marks = new LinkedHashMap<String, String>();
		this.fields.forEach((name, field) -> mark(marks, name, field));
		this.lists.forEach((list, rows) -> rows.forEach((key, row) -> {
			marks.put(place(list, key), "");
			row.fields().forEach((name, field) -> mark(marks, place(list, key) + "." + name, field));
		}));
		return new Fingerprints(marks);
	}

	private static void mark(Map<String, String> marks, String place, Field field) {
		var text = field.text();
		if (text != null) {
			marks.put(place, Fingerprints.of(text));
		}
	}

	private static String place(String list, String key) {
		return list + "/" + key;
	}

	/** The marks of the values that a form was filled from, by place. */
	record Fingerprints(@Nullable Map<String, String> marks) {

		/** Where nothing came back from the form. */
		static final Fingerprints UNKNOWN = new Fingerprints(null);

		private static final int LENGTH = 8;

		private static String of(String text) {
			try {
				var digest = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
				return HexFormat.of().formatHex(digest).substring(0, LENGTH);
			}
			catch (NoSuchAlgorithmException ex) {
				throw new IllegalStateException(ex);
			}
		}

		static Fingerprints read(@Nullable String written) {
			if (written == null) {
				return UNKNOWN;
			}
			var marks = new LinkedHashMap<String, String>();
			for (var one : written.split(";")) {
				var at = one.lastIndexOf(':');
				if (at > 0) {
					marks.put(one.substring(0, at), one.substring(at + 1));
				}
			}
			return new Fingerprints(marks);
		}

		String written() {
			var parts = new ArrayList<String>();
			if (this.marks != null) {
				this.marks.forEach((place, mark) -> parts.add(place + ":" + mark));
			}
			return String.join(";", parts);
		}

		boolean isKnown() {
			return this.marks != null;
		}

		boolean hasRow(String list, String key) {
			return this.marks != null && this.marks.containsKey(place(list, key));
		}

		boolean differs(String name, Field from) {
			return differsAt(name, from);
		}

		boolean differs(String list, String key, String name, Field from) {
			return differsAt(place(list, key) + "." + name, from);
		}

		private boolean differsAt(String place, Field from) {
			if (this.marks == null) {
				return true;
			}
			var text = from.text();
			return !Objects.equals(this.marks.get(place), (text != null) ? of(text) : null);
		}

	}

}
