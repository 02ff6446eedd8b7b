package org.seriatim.access;

/**
 * A person who appears in the records.
 *
 * @param name the name in files and, where there is an account, at sign-in
 */
public record StaffMember(StaffId id, String name) {
}
