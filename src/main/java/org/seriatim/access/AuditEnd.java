package org.seriatim.access;

/**
 * What the service keeps, beside the database, of the end of the audit log.
 */
public interface AuditEnd {

	/**
	 * Forgets it, because another log was brought here with the records of a backup. The
	 * next sealing keeps the end of that one.
	 */
	void forget();

}
