package org.seriatim.shell;

/**
 * A page that the navigation leads to. Each module declares its own as beans; the shell
 * shows an entry to whom the one table of routes lets open it, so that an entry needs no
 * roles of its own.
 *
 * @param section where the entry stands
 * @param order position within the section, lowest first
 * @param label message key
 * @param path address within the application, for example {@code /follow-up}; pages below
 * it count as part of the entry
 */
public record NavigationEntry(Section section, int order, String label, String path) {

	public NavigationEntry {
		if (!path.startsWith("/")) {
			throw new IllegalArgumentException("path must start with a slash, was " + path);
		}
	}

}
