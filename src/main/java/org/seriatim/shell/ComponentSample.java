package org.seriatim.shell;

/**
 * A component that a module brings for others to use, as the page of all components shows
 * it. Modules declare theirs as beans.
 *
 * @param title message key
 * @param view the fragment that shows it, for example {@code assessment/sample :: sample}
 * @param contents what the fragment finds under the name {@code contents}
 */
public record ComponentSample(String title, String view, Object contents) {
}
